//! Jobs of as many posts as are wanted, no two alike.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// How a job says what its posts carry.
#[derive(Clone, Copy)]
pub enum Loads {
    /// In columns of `posts.csv`.
    Given,
    /// Worked out from `[roof]` and the grid.
    Roof,
}

/// Makes a job of the example pergola's bases and piers, with posts on a full
/// grid that are all different; the same one each time.
pub fn make(folder: &Path, posts: usize, loads: Loads) -> PathBuf {
    let pergola = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/orchard-pergola");
    let name = match loads {
        Loads::Given => "given",
        Loads::Roof => "roof",
    };
    let job = folder.join(format!("{name}-{posts}"));
    std::fs::create_dir_all(&job).expect("the job's folder");
    for file in ["anchors.csv", "bases.csv", "foundations.csv"] {
        std::fs::copy(pergola.join(file), job.join(file)).expect("the example's catalogue");
    }
    let head = std::fs::read_to_string(pergola.join("job.toml")).expect("the example's job.toml");
    let head = match loads {
        Loads::Given => {
            let head = without_table(&head, "roof");
            let head = head.replace("[loads.none]\n", "[loads.none]\nLr = \"an open top of slats\"\n");
            head.replace("[bracing]\n", "[bracing]\ngravity_thrust = \"in the reactions\"\n")
        }
        Loads::Roof => head,
    };
    std::fs::write(job.join("job.toml"), head).expect("job.toml");
    std::fs::write(job.join("posts.csv"), posts_csv(posts, loads)).expect("posts.csv");
    job
}

fn without_table(text: &str, table: &str) -> String {
    let Some((before, rest)) = text.split_once(&format!("[{table}]")) else { return text.into() };
    let after = rest.find("\n[").map_or("", |at| &rest[at + 1..]);
    format!("{before}{after}")
}

/// Wood with a grade No.1 for posts, and what keeps it from rotting.
const WOODS: [(&str, &str, &str); 5] = [
    ("Douglas Fir-Larch", "treated", "yes"),
    ("Hem-Fir", "treated", "yes"),
    ("Southern Pine", "treated", "no"),
    ("Western Cedars", "natural", "no"),
    ("Redwood", "natural", "no"),
];

/// The cases that the sheets for loads work out for a pergola, so that both
/// kinds of job have the same combinations; axial load and shear in pounds.
const CASES: [(&str, [f64; 3]); 12] = [
    ("D", [1600.0, 0.0, 0.0]),
    ("S", [1800.0, 0.0, 0.0]),
    ("W1", [-900.0, 0.0, 300.0]),
    ("W2", [900.0, 0.0, 300.0]),
    ("W3", [-900.0, 0.0, -300.0]),
    ("W4", [900.0, 0.0, -300.0]),
    ("W5", [-900.0, 300.0, 0.0]),
    ("W6", [900.0, 300.0, 0.0]),
    ("W7", [-900.0, -300.0, 0.0]),
    ("W8", [900.0, -300.0, 0.0]),
    ("E_x", [120.0, 150.0, 0.0]),
    ("E_y", [120.0, 0.0, 150.0]),
];

fn posts_csv(posts: usize, loads: Loads) -> String {
    let mut text = String::from(
        "mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,brace_faces_y,timbers [lbf],source",
    );
    if let Loads::Given = loads {
        for (case, _) in CASES {
            let _ = write!(text, ",P_{case} [lbf],H_x_{case} [lbf],H_y_{case} [lbf]");
        }
        text.push_str(",w_x [lbf/ft],w_y [lbf/ft]");
    }
    text.push('\n');
    // The sheets for loads want a grid without gaps: as square as the number allows.
    let across = (1..=posts).take_while(|side| side * side <= posts).filter(|side| posts.is_multiple_of(*side)).last();
    let across = across.unwrap_or(1);
    for post in 0..posts {
        let draw = |what: u64| draw_of(post as u64, what);
        // Bays that differ from line to line, in quarter inches.
        let line = |at: usize, bay: f64, axis: u64| -> f64 {
            (0..at).fold(0.0, |sum, line| sum + bay + (96.0 * draw_of(line as u64, 100 + axis)).floor() / 48.0)
        };
        let (x, y) = (line(post % across, 13.0, 0), line(post / across, 11.0, 1));
        let sixteenths = |from: f64, to: f64, part: f64| from + ((to - from) * part * 16.0).floor() / 16.0;
        let (base, least) = if draw(0) < 0.5 { ("knife 8", 7.25) } else { ("knife 6", 5.25) };
        let (width, depth) = (sixteenths(least, least + 1.0, draw(1)), sixteenths(least, least + 1.0, draw(2)));
        let height = sixteenths(8.0, 9.5, draw(3));
        let (species, durable, incised) = WOODS[(WOODS.len() as f64 * draw(4)) as usize];
        // The beams are level.
        let level = 12.0 * (9.5 - height);
        // No two posts weigh the same.
        let timbers = 150.0 + (post as f64 / posts as f64) * 250.0;
        let _ = write!(
            text,
            "P{post},{x},{y},{base},pier 16,rod 1/2,{width},{depth},{height},{level},{species},No.1,{durable},{incised},both,both,{timbers:.3},demo"
        );
        if let Loads::Given = loads {
            for (at, (_, parts)) in CASES.iter().enumerate() {
                let share = 0.4 + draw(10 + at as u64);
                for part in parts {
                    let _ = write!(text, ",{:.2}", part * share);
                }
            }
            text.push_str(",20,20");
        }
        text.push('\n');
    }
    text
}

/// A number from 0 to 1 that belongs to a post and to what is drawn for it.
fn draw_of(post: u64, what: u64) -> f64 {
    // SplitMix64, after its published constants.
    let mut bits = (post * 1_000 + what).wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((bits ^ (bits >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}
