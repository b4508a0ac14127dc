//! Bits in as little room as they surprise: an adaptive binary range coder.
//!
//! Arithmetic coding after Rissanen and Langdon ("Arithmetic coding", IBM J. Res. Dev. 23, 1979), with the carry handled
//! after Martin ("Range encoding", 1979). All of it is done in whole numbers, so that every machine reads the same.

/// Probabilities are counted in 65536ths.
const ONE: u32 = 1 << 16;
/// No bit is ever taken for certain.
const LEAST: u32 = 64;
/// So many bits count fully in an estimate; later ones push older ones out.
const MEMORY: u8 = 40;
/// Bytes are taken out while the range has this much room left.
const LEAST_RANGE: u32 = 1 << 24;

/// How likely a bit is to be 0, learnt from the bits before it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Model {
    zero: u32,
    seen: u8,
}

impl Default for Model {
    fn default() -> Self {
        Self {
            zero: ONE / 2,
            seen: 0,
        }
    }
}

impl Model {
    fn learn(&mut self, bit: bool) {
        let weight = u32::from(self.seen) + 2;
        if bit {
            self.zero -= self.zero / weight;
        } else {
            self.zero += (ONE - self.zero) / weight;
        }
        self.zero = self.zero.clamp(LEAST, ONE - LEAST);
        self.seen = (self.seen + 1).min(MEMORY);
    }
}

/// Writing and reading go through the same code: whoever writes gives the values, whoever reads is given them.
pub(super) trait Coder {
    /// A bit that a model has an opinion of. A reader ignores what it is given.
    fn bit(&mut self, model: &mut Model, bit: bool) -> bool;

    /// A number of so many even bits, the highest first.
    fn even(&mut self, value: u32, bits: u32) -> u32 {
        (0..bits).rev().fold(0, |sum, at| {
            // Never learnt, so it stays even.
            let mut fair = Model::default();
            let bit = self.bit(&mut fair, value >> at & 1 == 1);
            sum << 1 | u32::from(bit)
        })
    }
}

/// A number from 1, mostly small: how many bits it has, then the bits below the highest.
#[derive(Debug, Clone, Default)]
pub(super) struct Number {
    size: [Model; Self::MOST_BITS as usize],
    second: [Model; Self::MOST_BITS as usize],
}

impl Number {
    /// No number has more bits than this below its highest.
    const MOST_BITS: u32 = 20;
    /// The largest number.
    pub(super) const MOST: u32 = (1 << (Self::MOST_BITS + 1)) - 1;

    pub(super) fn code(&mut self, coder: &mut impl Coder, value: u32) -> u32 {
        let wanted = value.clamp(1, Self::MOST).ilog2();
        let mut size = 0;
        for model in &mut self.size {
            if !coder.bit(model, size < wanted) {
                break;
            }
            size += 1;
        }
        let Some(below) = size.checked_sub(1) else {
            return 1;
        };
        let Some(model) = self.second.get_mut(below as usize) else {
            return 1;
        };
        let second = coder.bit(model, value >> below & 1 == 1);
        let rest = coder.even(value & ((1 << below) - 1), below);
        (2 | u32::from(second)) << below | rest
    }
}

/// Writes bits.
#[derive(Debug)]
pub(super) struct Writer {
    low: u64,
    range: u32,
    /// The last byte that a carry may still change, and how many of 255 follow it.
    last: Option<u8>,
    full: usize,
    bytes: Vec<u8>,
}

impl Default for Writer {
    fn default() -> Self {
        Self {
            low: 0,
            range: u32::MAX,
            last: None,
            full: 0,
            bytes: Vec::new(),
        }
    }
}

impl Writer {
    /// All bytes; zeros at their end go without saying.
    pub(super) fn finish(mut self) -> Vec<u8> {
        for _ in 0..5 {
            self.shift();
        }
        let length = self.bytes.iter().rposition(|&byte| byte != 0);
        self.bytes.truncate(length.map_or(0, |last| last + 1));
        self.bytes
    }

    fn shift(&mut self) {
        let top = (self.low >> 24) as u8;
        let carry = self.low > u64::from(u32::MAX);
        if top == u8::MAX && !carry {
            self.full += 1;
        } else {
            let more = u8::from(carry);
            if let Some(last) = self.last.replace(top) {
                self.bytes.push(last.wrapping_add(more));
            }
            let filling = u8::MAX.wrapping_add(more);
            self.bytes.extend(std::iter::repeat_n(filling, self.full));
            self.full = 0;
        }
        self.low = (self.low & 0x00ff_ffff) << 8;
    }
}

impl Coder for Writer {
    fn bit(&mut self, model: &mut Model, bit: bool) -> bool {
        let zero = (self.range >> 16) * model.zero;
        if bit {
            self.low += u64::from(zero);
            self.range -= zero;
        } else {
            self.range = zero;
        }
        model.learn(bit);
        while self.range < LEAST_RANGE {
            self.range <<= 8;
            self.shift();
        }
        bit
    }
}

/// Reads what a [`Writer`] wrote. Of bytes that nobody wrote it makes some values or other, and never stops.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    code: u32,
    range: u32,
    bytes: std::slice::Iter<'a, u8>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        let mut reader = Self {
            code: 0,
            range: u32::MAX,
            bytes: bytes.iter(),
        };
        for _ in 0..4 {
            reader.take();
        }
        reader
    }

    fn take(&mut self) {
        self.code = self.code << 8 | u32::from(self.bytes.next().copied().unwrap_or(0));
    }
}

impl Coder for Reader<'_> {
    fn bit(&mut self, model: &mut Model, _: bool) -> bool {
        let zero = (self.range >> 16) * model.zero;
        let bit = self.code >= zero;
        if bit {
            self.code -= zero;
            self.range -= zero;
        } else {
            self.range = zero;
        }
        model.learn(bit);
        while self.range < LEAST_RANGE {
            self.range <<= 8;
            self.take();
        }
        bit
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn rare_bits_take_little_room() {
        let mut writer = Writer::default();
        let mut model = Model::default();
        for n in 0..10_000 {
            writer.bit(&mut model, n % 100 == 0);
        }
        // One in a hundred: 0.0808 bit each by Shannon's formula, 101 bytes; an estimate that forgets costs some more.
        let bytes = writer.finish().len();
        assert!((95..130).contains(&bytes), "{bytes}");
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(values in prop::collection::vec((1u32..=Number::MOST, 0u32..16, any::<bool>()), 0..300)) {
            let mut writer = Writer::default();
            let (mut number, mut model) = (Number::default(), Model::default());
            for &(value, even, bit) in &values {
                number.code(&mut writer, value);
                writer.even(even, 4);
                writer.bit(&mut model, bit);
            }
            let bytes = writer.finish();
            let mut reader = Reader::new(&bytes);
            let (mut number, mut model) = (Number::default(), Model::default());
            for &(value, even, bit) in &values {
                prop_assert_eq!(number.code(&mut reader, 0), value);
                prop_assert_eq!(reader.even(0, 4), even);
                prop_assert_eq!(reader.bit(&mut model, false), bit);
            }
        }

        #[test]
        fn any_bytes_are_read_as_something(bytes in prop::collection::vec(any::<u8>(), 0..64)) {
            let mut reader = Reader::new(&bytes);
            let mut number = Number::default();
            for _ in 0..500 {
                prop_assert!((1..=Number::MOST).contains(&number.code(&mut reader, 0)));
            }
        }
    }
}
