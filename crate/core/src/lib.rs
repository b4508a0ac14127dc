//! The core of Dusklens: bytes and samples in, values and pixels out.
//!
//! It touches no file, no clock and no JavaScript, so that the page, the
//! command line and the tests run the very same code. Arrows between the rooms
//! run one way: [`share`] -> `draw`, `listen`, `night`, `teach` -> [`pulse`] -> [`spectrum`] -> [`recording`];
//! [`field`] stands alone; `teach` and `night` use it, and `night` writes its plots and report with the markup of `draw`.
//!
//! Units are part of every name (`_s`, `_ms`, `_khz`, `_db`), and times are real
//! times at the microphone: time expansion is undone while reading.

pub mod draw;
pub mod field;
pub mod listen;
pub mod night;
pub mod pulse;
pub mod recording;
pub mod share;
pub mod spectrum;
pub mod teach;
