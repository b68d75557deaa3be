//! Seconds for pin yield, group action and column of one post, worked from the
//! sheets and by a function written by hand from the same formulas.
//! `benches/README.md` says how to run it.

mod inputs;
mod sheets;

use std::hint::black_box;
use std::time::Instant;

use inputs::{INPUTS, Inputs, draw};
use sheets::Sheets;

/// What is compared, as the sheet names it.
pub const OUTPUTS: [&str; 8] = [
    "dowel-bearing.F_e_theta",
    "pin-yield.Z",
    "group-action.C_g",
    "Z_row",
    "column.F_cE",
    "column.C_P",
    "column.F_c'",
    "column.f_c",
];

pub type Outputs = [f64; OUTPUTS.len()];

const POSTS: u64 = 10_000;
/// Many short ones: on a machine that does other work, long ones all lose time.
const ROUNDS: usize = 201;
const EACH_ROUND: usize = 1_000;

/// Another order of the same operations rounds otherwise, in the last bits.
const AGREES: f64 = 1e-12;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    let mut sheets = Sheets::new();
    if args.first().is_some_and(|arg| arg == "--json") {
        let posts = args.get(1).and_then(|posts| posts.parse().ok()).unwrap_or(100);
        return print_json(&mut sheets, posts);
    }
    let posts: Vec<Inputs> = (0..POSTS).map(draw).collect();
    let widest = posts.iter().map(|post| difference(&sheets.run(post), &by_hand(post))).fold(0.0, f64::max);
    assert!(widest <= AGREES, "the sheets and the function differ by {widest:e}");
    println!("{POSTS} posts agree to {widest:.1e} in {} values each", OUTPUTS.len());

    let mut rounds: Vec<[f64; 2]> = Vec::new();
    for posts in posts.chunks(EACH_ROUND).cycle().take(ROUNDS) {
        let hand = seconds(posts, by_hand);
        let sheet = seconds(posts, |post| sheets.run(post));
        rounds.push([hand, sheet]);
    }
    let sorted = |of: &dyn Fn(&[f64; 2]) -> f64| {
        let mut values: Vec<f64> = rounds.iter().map(of).collect();
        values.sort_by(f64::total_cmp);
        values
    };
    let (hand, sheet) = (sorted(&|round| round[0]), sorted(&|round| round[1]));
    let ratio = sorted(&|round| round[1] / round[0]);
    println!("{ROUNDS} rounds of {EACH_ROUND} posts, the two in turn, one thread");
    for (what, values) in [("by hand", hand), ("from sheets", sheet)] {
        println!("{what:<12} {:.3e} s each, at best {:.3e} s", values[ROUNDS / 2], values[0]);
    }
    println!("ratio        {:.2}", ratio[ROUNDS / 2]);
}

/// Seconds for one post.
fn seconds(posts: &[Inputs], mut work: impl FnMut(&Inputs) -> Outputs) -> f64 {
    let start = Instant::now();
    for post in posts {
        black_box(work(black_box(post)));
    }
    start.elapsed().as_secs_f64() / posts.len() as f64
}

fn difference(a: &Outputs, b: &Outputs) -> f64 {
    let each = a.iter().zip(b).map(|(a, b)| (a - b).abs() / a.abs().max(b.abs()).max(f64::MIN_POSITIVE));
    // A value that is not a number agrees with nothing.
    each.fold(0.0, |widest, next| if next.is_nan() { f64::INFINITY } else { next.max(widest) })
}

/// Inputs and outputs by name, a list each, for `wood.py --compare`.
fn print_json(sheets: &mut Sheets, posts: u64) {
    let posts: Vec<Inputs> = (0..posts).map(draw).collect();
    let worked: Vec<Outputs> = posts.iter().map(|post| sheets.run(post)).collect();
    let inputs = INPUTS.iter().enumerate().map(|(at, name)| {
        let values: Vec<f64> = posts.iter().map(|post| post[at]).collect();
        ((*name).to_string(), serde_json::json!(values))
    });
    let outputs = OUTPUTS.iter().enumerate().map(|(at, name)| {
        let values: Vec<f64> = worked.iter().map(|outputs| outputs[at]).collect();
        ((*name).to_string(), serde_json::json!(values))
    });
    let (inputs, outputs): (serde_json::Map<_, _>, serde_json::Map<_, _>) = (inputs.collect(), outputs.collect());
    println!("{}", serde_json::json!({ "inputs": inputs, "outputs": outputs }));
}

/// The chain as somebody writes it who wants nothing but the numbers, in inches
/// and pounds.
fn by_hand(post: &Inputs) -> Outputs {
    let [g, d_pin, theta, l_m, l_s, f_em, f_yb, n, s, e_m, a_m, e_s, a_s, rest @ ..] = *post;
    let [b, d, l_e1, l_e2, f_c_ref, e_min, c_d, c_m, c_t, c_f, c_i, p] = rest;

    // dowel-bearing.sheet
    let nearest_50 = |value: f64| libm::floor(value / 50.0 + 0.5) * 50.0;
    let (along, across) = if d_pin >= 0.25 {
        (nearest_50(11200.0 * g), nearest_50(6100.0 * libm::pow(g, 1.45) / libm::sqrt(d_pin)))
    } else {
        let both = nearest_50(16600.0 * libm::pow(g, 1.84));
        (both, both)
    };
    let (sin, cos) = (libm::sin(theta), libm::cos(theta));
    let f_es = along * across / (along * sin * sin + across * cos * cos);

    // pin-yield.sheet
    let k_theta = 1.0 + 0.25 * theta / std::f64::consts::FRAC_PI_2;
    let (r_1, r_3) = if d_pin >= 0.25 {
        (4.0 * k_theta, 3.2 * k_theta)
    } else {
        let k_d = if d_pin <= 0.17 { 2.2 } else { 10.0 * d_pin + 0.5 };
        (k_d, k_d)
    };
    let r_e = f_em / f_es;
    let k_3 = -1.0
        + libm::sqrt(2.0 * (1.0 + r_e) / r_e + 2.0 * f_yb * (2.0 + r_e) * d_pin * d_pin / (3.0 * f_em * l_s * l_s));
    let z_im = d_pin * l_m * f_em / r_1;
    let z_is = 2.0 * d_pin * l_s * f_es / r_1;
    let z_iiis = 2.0 * k_3 * d_pin * l_s * f_em / ((2.0 + r_e) * r_3);
    let z_iv = 2.0 * d_pin * d_pin / r_3 * libm::sqrt(2.0 * f_em * f_yb / (3.0 * (1.0 + r_e)));
    let z = z_im.min(z_is).min(z_iiis).min(z_iv);

    // group-action.sheet, with a side of steel
    let c_g = if n > 1.0 && d_pin >= 0.25 {
        let gamma = 270_000.0 * libm::pow(d_pin, 1.5);
        let (k_m, k_s) = (e_m * a_m, e_s * a_s);
        let r_ea = (k_s / k_m).min(k_m / k_s);
        let u = 1.0 + gamma * s / 2.0 * (1.0 / k_m + 1.0 / k_s);
        let m = u - libm::sqrt(u * u - 1.0);
        let (m_n, m_2n) = (libm::pow(m, n), libm::pow(m, 2.0 * n));
        let c_1 = m * (1.0 - m_2n) / (n * ((1.0 + r_ea * m_n) * (1.0 + m) - 1.0 + m_2n));
        c_1 * (1.0 + r_ea) / (1.0 - m)
    } else {
        1.0
    };
    let z_row = n * z * c_g * c_d;

    // column.sheet, with sawn lumber's c and without factors on E_min
    let s_max = (l_e1 / d).max(l_e2 / b);
    let f_c_star = f_c_ref * c_d * c_m * c_t * c_f * c_i;
    let f_ce = 0.822 * e_min / (s_max * s_max);
    let alpha = f_ce / f_c_star;
    let beta = (1.0 + alpha) / (2.0 * 0.8);
    let c_p = beta - libm::sqrt(beta * beta - alpha / 0.8);
    let f_c = p.max(0.0) / (b * d);

    [f_es, z, c_g, z_row, f_ce, c_p, f_c_star * c_p, f_c]
}
