//! teach
