//! Recordings that are made up for the tests of the command line.

/// Header, metadata, then samples of every channel in turn.
pub(crate) fn wav(rate_hz: u32, channels: &[Vec<f64>], guano: &str) -> Vec<u8> {
    let count = channels.len() as u16;
    let frames = channels[0].len();
    let mut fmt = Vec::new();
    fmt.extend_from_slice(&[1_u16.to_le_bytes(), count.to_le_bytes()].concat());
    fmt.extend_from_slice(&rate_hz.to_le_bytes());
    fmt.extend_from_slice(&(rate_hz * 2 * u32::from(count)).to_le_bytes());
    fmt.extend_from_slice(&[(2 * count).to_le_bytes(), 16_u16.to_le_bytes()].concat());
    let mut data = Vec::new();
    for frame in 0..frames {
        for channel in channels {
            data.extend_from_slice(&((channel[frame] * 32_767.0) as i16).to_le_bytes());
        }
    }
    let mut file = b"RIFF\0\0\0\0WAVE".to_vec();
    for (id, mut body) in [(b"fmt ", fmt), (b"guan", guano.into()), (b"data", data)] {
        if body.is_empty() && id == b"guan" {
            continue;
        }
        file.extend_from_slice(id);
        file.extend_from_slice(&(body.len() as u32).to_le_bytes());
        let odd = body.len() % 2 == 1;
        file.append(&mut body);
        if odd {
            file.push(0);
        }
    }
    let size = (file.len() - 8) as u32;
    file[4..8].copy_from_slice(&size.to_le_bytes());
    file
}

/// 0.4 s at 384 kHz with three sweeps from 80 to 45 kHz over weak hiss.
pub(crate) fn calls() -> Vec<f64> {
    let mut seed = 7_u32;
    let mut samples: Vec<f64> = (0..153_600)
        .map(|_| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (f64::from(seed >> 8) / f64::from(1 << 24) - 0.5) * 0.002
        })
        .collect();
    for start in [30_000, 70_000, 110_000] {
        let length = 1_536;
        for i in 0..length {
            let t = f64::from(i) / 384_000.0;
            let whole = f64::from(length) / 384_000.0;
            let cycles = 80e3 * t - 35e3 * t * t / (2.0 * whole);
            let envelope = (std::f64::consts::PI * t / whole).sin().powi(2);
            samples[start + i as usize] += 0.3 * envelope * (std::f64::consts::TAU * cycles).sin();
        }
    }
    samples
}
