//! What a roof brings to the posts: snow in a trough and no snow, live load on slats,
//! a roof that the figures for wind do not cover, and a post that is not on the grid.

use crate::support::Job;
use crate::wind::{alike, pressure, reactions, roofed};

/// The axial loads of all posts in a case.
fn axial(job: &Job, case: &str) -> Vec<f64> {
    reactions(job).into_iter().map(|(_, cases)| cases[case].p).collect()
}

/// A trough 15 ft wide and 35 ft long, 30 psf on the ground: a flat roof holds 25.2 psf, and the snow grows from half
/// of that at the high edges to twice at the valley. Each of the posts carries the whole width of one side.
#[test]
fn snow_of_a_troughed_roof_lies_in_the_valley() {
    let posts = axial(&roofed("troughed", true), "S");
    for (post, length) in posts.iter().zip([9.5, 16.0, 9.5, 9.5, 16.0, 9.5]) {
        let wanted = (12.6 + 50.4) / 2.0 * 7.5 * length;
        assert!((post - wanted).abs() < 1e-6 * wanted, "{posts:?} {wanted}");
    }
    // A valley off the middle: both sides keep their shape, and the posts nearer to it get more.
    let job = roofed("troughed", true);
    job.edit("job.toml", "ridge_at = \"6 ft\"", "ridge_at = \"4 ft\"");
    let moved = axial(&job, "S");
    assert!((moved.iter().sum::<f64>() - posts.iter().sum::<f64>()).abs() < 1e-6);
    assert!(moved[0] > moved[3], "{moved:?}");
}

#[test]
fn no_snow_on_the_ground_brings_none_to_the_posts() {
    for shape in ["pitched", "troughed", "monoslope"] {
        let job = roofed(shape, true);
        job.edit("job.toml", "p_g = \"30 psf\"", "p_g = \"0 psf\"");
        job.edit("job.toml", "ridge_at", "high = \"plus\"\nridge_at");
        assert_eq!(axial(&job, "S"), [0.0; 6], "{shape}");
    }
}

/// Roof live load on slats is typed, zero too, and a licensed person's to decide.
#[test]
fn live_load_on_slats_is_asked_for_and_decided() {
    let job = alike();
    for (typed, psf) in [("10 psf", 10.0), ("0 psf", 0.0)] {
        job.edit("job.toml", "slats_live = \"10 psf\"", &format!("slats_live = \"{typed}\""));
        let live = axial(&job, "Lr");
        assert!((live.iter().sum::<f64>() - psf * 35.0 * 15.0).abs() < 1e-6, "{live:?}");
        let json = job.check_json();
        let open = json["open"].as_array().expect("a list");
        assert!(open.iter().any(|it| it["what"] == "roof live load on open slats"), "{open:#?}");
    }
    job.edit("job.toml", "slats_live = \"0 psf\"\n", "");
    assert!(job.diagnostic().contains("`job.toml` has no `slats_live`"), "{}", job.diagnostic());
}

/// 35 ft long and 8 ft high, h/L is 0.23 along the ridge and in the figures across it.
#[test]
fn a_roof_beyond_the_figures_takes_what_an_engineer_gives() {
    let job = roofed("pitched", true);
    let inside = reactions(&job);
    job.edit("job.toml", "mean_height = \"11 ft\"", "mean_height = \"8 ft\"");
    let told = job.diagnostic();
    for key in ["C_N_source", "C_N_along_A", "C_N_along_B"] {
        assert!(told.contains(&format!("`job.toml` has no `{key}`")), "{told}");
    }
    assert!(told.contains("h/L is outside the figures") && !told.contains("`C_NW_A`"), "{told}");
    let keys = "C_N_along_A = 0.7\nC_N_along_B = -0.9\nC_N_source = \"demo: a tunnel test\"\n";
    job.edit("job.toml", "fascia =", &format!("{keys}fascia ="));
    let outside = reactions(&job);
    let sum = |posts: &[([f64; 2], std::collections::BTreeMap<String, socle::job::Reaction>)], case: &str| {
        posts.iter().map(|(_, cases)| cases[case].p).sum::<f64>()
    };
    for (case, coefficient) in [("W5", 0.7), ("W6", -0.9), ("W7", 0.7), ("W8", -0.9)] {
        let (found, wanted) = (sum(&outside, case), pressure() * 0.85 * coefficient * 35.0 * 15.0);
        assert!((found - wanted).abs() < 1e-6 * wanted.abs(), "{case}: {found} {wanted}");
    }
    assert!((sum(&outside, "W1") - sum(&inside, "W1")).abs() < 1e-6, "across, the figures hold");
    let json = job.check_json();
    let of = |it: &&serde_json::Value| {
        it["what"].as_str().is_some_and(|what| what.starts_with("net pressure coefficients along"))
    };
    let decisions: Vec<_> = json["open"].as_array().expect("a list").iter().filter(of).collect();
    assert_eq!(decisions.len(), 2, "{decisions:#?}");
    assert!(decisions[0]["value"].as_str().expect("text").contains("0.7"), "{decisions:#?}");
    // Higher than wide, across too.
    job.edit("job.toml", "mean_height = \"8 ft\"", "mean_height = \"16 ft\"");
    let told = job.diagnostic();
    assert!(told.contains("`C_NW_A`") && told.contains("`C_NL_B`") && !told.contains("no `C_N_along_A`"), "{told}");
    let keys = "C_NW_A = 1.2\nC_NL_A = 0.2\nC_NW_B = -0.2\nC_NL_B = -1.0\n";
    job.edit("job.toml", "fascia =", &format!("{keys}fascia ="));
    let high = reactions(&job);
    // K_z at 16 ft.
    let q = pressure() * (16.0f64 / 15.0).powf(2.0 / 9.5);
    for (case, both) in [("W1", 1.4), ("W2", -1.2), ("W3", 1.4), ("W4", -1.2)] {
        let (found, wanted) = (sum(&high, case), q * 0.85 * both * 35.0 * 7.5);
        assert!((found - wanted).abs() < 1e-6 * wanted.abs(), "{case}: {found} {wanted}");
    }
}

/// The middle post of row A stands a foot out of line: its part of the roof is given,
/// and that of the posts beside it.
fn out_of_line(parts: &[(&str, &str)]) -> Job {
    let job = alike();
    job.set("posts.csv", "A2", "y", "1");
    if !parts.is_empty() {
        let text = job.read("posts.csv");
        let columns = ",roof_from_x [ft],roof_to_x [ft],roof_from_y [ft],roof_to_y [ft]";
        let lines = text.lines().enumerate().map(|(at, line)| {
            let part = parts.iter().find(|(mark, _)| line.starts_with(&format!("{mark},"))).map_or(",,,", |it| it.1);
            if at == 0 { format!("{line}{columns}\n") } else { format!("{line},{part}\n") }
        });
        job.write("posts.csv", lines.collect::<String>());
    }
    job
}

const PARTS: [(&str, &str); 4] =
    [("A1", "-1.5,8,-1.5,6"), ("A2", "8,24,-1.5,6"), ("A3", "24,33.5,-1.5,6"), ("B2", "8,24,6,13.5")];

#[test]
fn a_post_off_the_grid_carries_what_the_job_says() {
    let (given, grid) = (axial(&out_of_line(&PARTS), "S"), axial(&alike(), "S"));
    assert!(given.iter().zip(&grid).all(|(one, other)| (one - other).abs() < 1e-6), "{given:?} {grid:?}");
    let (given, grid) = (axial(&out_of_line(&PARTS), "D"), axial(&alike(), "D"));
    assert!(given.iter().zip(&grid).all(|(one, other)| (one - other).abs() < 1e-6), "{given:?} {grid:?}");
    // Nothing given, something missing, something twice, a side too few, another's part.
    let told = out_of_line(&[]).diagnostic();
    assert!(told.contains("368 ft² of the 384 ft²") && told.contains("`roof_from_x [ft]`"), "{told}");
    let told = out_of_line(&[("A2", "8,24,-1.5,8")]).diagnostic();
    assert!(told.contains("carried twice") && told.contains("the posts beside it too"), "{told}");
    let told = out_of_line(&[PARTS[0], ("A2", "8,24,-1.5,"), PARTS[2], PARTS[3]]).diagnostic();
    assert!(told.contains("no `roof_to_y`"), "{told}");
    let told = out_of_line(&[PARTS[0], ("A2", "8,24,2,6"), PARTS[2], PARTS[3]]).diagnostic();
    assert!(told.contains("is outside the part of the roof"), "{told}");
}
