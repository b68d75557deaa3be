//! What the chain is worked for: as many different posts as are wanted, the
//! same ones each time.

/// The inputs of `chain.sheet`, in the order of their values.
pub const INPUTS: [&str; 25] = [
    "G", "D", "theta", "l_m", "l_s", "F_em", "F_yb", "n", "s", "E_m", "A_m", "E_s", "A_s", "b", "d", "l_e1", "l_e2",
    "F_c", "E_min", "C_D", "C_M", "C_t", "C_F", "C_i", "P",
];

/// In inches, pounds and radians.
pub type Inputs = [f64; INPUTS.len()];

/// A post's inputs: sizes and strengths of ordinary timber and steel, so that
/// every yield mode and both branches of the sheets are met with.
pub fn draw(post: u64) -> Inputs {
    let mut what = 0;
    let mut between = |least: f64, most: f64| {
        what += 1;
        least + (most - least) * fraction(post * 100 + what)
    };
    let (b, d) = (between(5.0, 12.0), between(5.0, 12.0));
    let blade = between(0.1875, 0.75);
    let e_wood = between(0.9e6, 1.9e6);
    [
        between(0.31, 0.73),
        between(0.1875, 1.0),
        between(0.0, std::f64::consts::FRAC_PI_2),
        blade,
        between(1.0, 5.0),
        between(58_000.0, 90_000.0),
        between(36_000.0, 90_000.0),
        between(1.0, 5.0).floor(),
        between(1.5, 4.0),
        29_000_000.0,
        blade * between(2.0, 6.0),
        e_wood,
        b * d,
        b,
        d,
        between(60.0, 180.0),
        between(60.0, 180.0),
        between(500.0, 1500.0),
        0.37 * e_wood,
        [0.9, 1.0, 1.15, 1.25, 1.6][between(0.0, 5.0) as usize],
        [0.91, 1.0][between(0.0, 2.0) as usize],
        [0.9, 1.0][between(0.0, 2.0) as usize],
        1.0,
        [0.8, 1.0][between(0.0, 2.0) as usize],
        between(-2_000.0, 20_000.0),
    ]
}

/// SplitMix64, after its published constants, as a number from 0 to 1.
fn fraction(at: u64) -> f64 {
    let mut bits = at.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((bits ^ (bits >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}
