//! Published colour maps, each thinned to 33 colours at even distances (0xRRGGBB).
//!
//! Between them colours are interpolated straight in sRGB, which comes within
//! two steps of 255 of the full tables.

/// Colours per table.
pub(super) const COLOURS: usize = 33;

/// "viridis" by Nathaniel Smith, Stéfan van der Walt and Eric Firing for the
/// matplotlib project, dedicated to the public domain (CC0 1.0). Thinned from
/// the table in matplotlib 3.11.2.
pub(super) const VIRIDIS: [u32; COLOURS] = [
    0x440154, 0x470d60, 0x48186a, 0x482374, 0x472d7b, 0x453681, 0x424086, 0x3f4989, 0x3b528b,
    0x375a8d, 0x33638d, 0x2f6a8e, 0x2c728e, 0x297a8e, 0x26818e, 0x23898e, 0x21908c, 0x1f988b,
    0x1f9f88, 0x21a685, 0x28ae80, 0x31b57b, 0x3ebc74, 0x4cc26c, 0x5dc963, 0x6ece58, 0x82d34c,
    0x96d83f, 0xabdc32, 0xc0df24, 0xd5e21a, 0xeae51a, 0xfde725,
];

/// "magma" by Nathaniel Smith and Stéfan van der Walt for the matplotlib
/// project, dedicated to the public domain (CC0 1.0). Thinned from the table in
/// matplotlib 3.11.2.
pub(super) const MAGMA: [u32; COLOURS] = [
    0x000004, 0x030311, 0x0a0822, 0x130d33, 0x1d1146, 0x28115a, 0x36106a, 0x430f76, 0x50127c,
    0x5d177f, 0x691c81, 0x762181, 0x822681, 0x8f2a81, 0x9c2e7f, 0xa9327d, 0xb63779, 0xc33b75,
    0xcf4170, 0xdb486a, 0xe65163, 0xee5c5e, 0xf5695c, 0xf9785d, 0xfb8761, 0xfd9668, 0xfea571,
    0xfeb47b, 0xfec387, 0xfed194, 0xfde0a2, 0xfceeb0, 0xfcfdbf,
];

/// "batlow" by Fabio Crameri (2018, Scientific colour maps,
/// doi:10.5281/zenodo.1243862), MIT licence. Thinned from the table in version
/// 1.10 of the Python package `cmcrameri`.
pub(super) const BATLOW: [u32; COLOURS] = [
    0x011959, 0x08255b, 0x0d315d, 0x0f3b5f, 0x114360, 0x134b61, 0x165262, 0x1b5962, 0x226061,
    0x2a655e, 0x356a59, 0x406f54, 0x4d734d, 0x597646, 0x667a3f, 0x737e38, 0x818232, 0x90862d,
    0xa08a2b, 0xb08d2e, 0xbf9035, 0xce923f, 0xdb954c, 0xe8985b, 0xf29d6c, 0xf8a27e, 0xfca891,
    0xfdaea3, 0xfdb4b4, 0xfdbac5, 0xfcc0d6, 0xfbc6e8, 0xfaccfa,
];
