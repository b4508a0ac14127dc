//! The page's door into the core.
