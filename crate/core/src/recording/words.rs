//! What a recording says of itself, in a few words.

use super::{ExpansionOrigin, Facts};

impl Facts {
    /// How long it is and at which rate, how it is stored, when it began, and the time expansion that was undone: what
    /// a number or a picture of it must be read with. `channel` is the one that is meant, counted from 0.
    #[must_use]
    pub fn in_words(&self, channel: u16) -> Vec<String> {
        let mut words = vec![format!(
            "{:.3} s at {} kHz, {}, {}",
            self.duration_s,
            self.rate_hz / 1e3,
            self.encoding,
            match self.channels {
                1 => "1 channel".to_owned(),
                channels => format!("channel {} of {channels}", channel.saturating_add(1)),
            }
        )];
        if let Some(start) = &self.start {
            let offset = start.utc_offset_min.map(offset).unwrap_or_default();
            words.push(format!("began {}{offset}", start.local.replace('T', " ")));
        }
        let factor = self.expansion.factor;
        match self.expansion.origin {
            ExpansionOrigin::Assumed => {}
            _ if factor == 1.0 => {}
            ExpansionOrigin::Metadata => {
                words.push(format!("time expansion {factor}, by its metadata"));
            }
            ExpansionOrigin::Person => words.push(format!("time expansion {factor}, as you chose")),
        }
        words
    }
}

fn offset(minutes: i32) -> String {
    let sign = if minutes < 0 { '-' } else { '+' };
    format!(
        " UTC{sign}{:02}:{:02}",
        minutes.abs() / 60,
        minutes.abs() % 60
    )
}
