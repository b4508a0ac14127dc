//! What is not a bat: clicks of rain and twigs, trains of insects.

use super::Pulse;
use super::ridge::{Block, Ridge};

/// Whether a ridge is part of a click: placeholder threshold.
pub(super) fn is_click(_block: &Block, _ridge: &Ridge) -> bool {
    false
}

/// Removes pulse trains of insects.
pub(super) fn remove_trains(_pulses: &mut Vec<Pulse>) {}
