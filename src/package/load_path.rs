//! The load path in words and as a figure, from what the sheets of each post
//! say: what it carries, what holds its top, what it stands on.

use std::sync::Arc;

use super::build::marks;
use super::model::{LoadPath, Sideways};
use crate::drawing::{Above, Bay, Holds, LoadPath as Figure, load_path as draw};
use crate::engine::{GroupResult, Made, RoofOver};
use crate::formula::Value;
use crate::job::{Job, Post};

/// What a group of posts is, as far as the load path goes.
struct Foot {
    marks: Vec<String>,
    /// Along x and along y.
    brace: [String; 2],
    /// What that is where it is none of those that are known.
    held: [String; 2],
    moment: bool,
    floor: bool,
    base: String,
    base_name: String,
    foundation: String,
}

const AXES: [&str; 2] = ["x", "y"];

pub(super) fn load_path(job: &Job, made: &[(&GroupResult, Arc<Made>)], roof: Option<&RoofOver>) -> Option<LoadPath> {
    let feet: Vec<Foot> = made.iter().map(|(group, made)| foot(job, group, made)).collect();
    let first = feet.first()?;
    let mut sideways: Vec<Sideways> = Vec::new();
    for row in (0..2).flat_map(|axis| self::sideways(&feet, axis)) {
        // What holds along both axes is said once.
        match sideways.iter_mut().find(|known| known.by == row.by && known.marks == row.marks) {
            Some(known) => known.axis = format!("{} and {}", known.axis, row.axis),
            None => sideways.push(row),
        }
    }
    let figure = Figure {
        roof: roof.is_some(),
        floor: first.floor,
        pad: job.posts.iter().any(has_pad),
        bays: (0..2).map(|axis| bay(&feet, axis, roof)).collect(),
    };
    Some(LoadPath {
        drawing: draw(&figure),
        down: down(&feet, roof),
        sideways,
        changed: false,
        changed_down: Vec::new(),
    })
}

fn foot(job: &Job, group: &GroupResult, made: &Made) -> Foot {
    let text = |name: &str| match made.bound.get(name).map(|bound| &bound.value) {
        Some(Value::Text(text)) => text.clone(),
        _ => String::new(),
    };
    let post = &job.posts[group.posts[0]];
    Foot {
        marks: marks(job, group),
        brace: ["brace_x", "brace_y"].map(text),
        held: ["held_x", "held_y"].map(text),
        moment: text("hinge.moment_rated") == "yes",
        floor: text("fixings.on") == "wood",
        base: base(post),
        base_name: post.base().to_string(),
        foundation: foundation(post),
    }
}

fn said(post: &Post, catalogue: &str, column: &str) -> String {
    let entry = post.entries.get(catalogue);
    entry.and_then(|entry| entry.facts.get(column)).map_or(String::new(), |fact| fact.text.trim().to_lowercase())
}

fn has_pad(post: &Post) -> bool {
    said(post, "foundations", "pad") == "yes" || said(post, "foundations", "foundation_type") == "pad"
}

/// How a base takes a post.
fn base(post: &Post) -> String {
    let of = |column: &str| said(post, "bases", column);
    match (of("kind").as_str(), of("connection").as_str(), of("moment_rated").as_str()) {
        ("made", "side plates", _) => {
            "down by the end grain on the seat; up and sideways by screws through side plates; then by standoff, welds and plate"
        }
        ("made", ..) => {
            "down by the end grain on the seat; up and sideways by pins through a blade in a slot; then by standoff, welds and plate"
        }
        ("sleeve", ..) => "down by the end grain on the seat; up and sideways by bolts through post and tube",
        ("rated", _, "yes") => "cast in: down, up, sideways and in bending within the values of its evaluation report",
        ("rated", ..) => "down, up and sideways within the values of its evaluation report",
        _ => "as the job's own sheet for this kind of base says",
    }
    .into()
}

/// How what is under the base takes the load on.
fn foundation(post: &Post) -> String {
    let name = post.entries.get("foundations").map_or(String::new(), |entry| entry.name.clone());
    let how = match (said(post, "foundations", "foundation_type").as_str(), has_pad(post)) {
        ("pier", true) => {
            "down by the soil under its pad; up by its weight and the soil on it; sideways by the soil against the pier"
        }
        ("pier", false) => "down by the soil under it; up by its weight; sideways by the soil against it",
        ("pad", _) => {
            "down by the soil under it; up by its weight and the soil on it; sideways by friction on the soil"
        }
        _ => return name,
    };
    format!("{name}: {how}")
}

/// Marks by what they share, in the order in which it is met.
fn shared<'a>(feet: &'a [Foot], of: &dyn Fn(&'a Foot) -> String) -> Vec<(String, Vec<&'a str>)> {
    let mut found: Vec<(String, Vec<&str>)> = Vec::new();
    for foot in feet {
        let what = of(foot);
        let marks = foot.marks.iter().map(String::as_str);
        match found.iter_mut().find(|(known, _)| *known == what) {
            Some((_, known)) => known.extend(marks),
            None => found.push((what, marks.collect())),
        }
    }
    found
}

/// As many marks as a line names.
const NAMED: usize = 8;

fn named(marks: &[&str]) -> String {
    match marks {
        [] => String::new(),
        _ if marks.len() > NAMED => format!("{} and {} more", marks[..NAMED - 1].join(", "), marks.len() + 1 - NAMED),
        _ => marks.join(", "),
    }
}

/// From the top down, by the numbers of the figure.
fn down(feet: &[Foot], roof: Option<&RoofOver>) -> Vec<String> {
    let of = |what: &str, each: &dyn Fn(&Foot) -> String| {
        let parts = shared(feet, &|foot| each(foot));
        match parts.as_slice() {
            [(one, _)] => format!("{what} {one}."),
            parts => {
                let parts: Vec<String> = parts.iter().map(|(how, marks)| format!("{} {how}", named(marks))).collect();
                format!("{what} {}.", parts.join("; "))
            }
        }
    };
    let mut steps = match roof {
        Some(roof) => {
            let top = match roof.shape.as_str() {
                "slats" => "The open top of slats rests",
                _ => "The roof rests",
            };
            vec![
                format!("{top} on the beams; each post carries the part of it that the key plan shows."),
                format!(
                    "Beams along {} carry it to the tops of the posts. Roof and beams are designed by others.",
                    roof.carried_by
                ),
            ]
        }
        None => vec![
            "The roof, and what is under it, cause the reactions that the job gives.".into(),
            "Beams and frame carry them to the tops of the posts. They are designed by others.".into(),
        ],
    };
    steps.push(
        "Posts carry the load down, and bend under the wind on them and the forces of the bracing at their tops."
            .into(),
    );
    let bases = |foot: &Foot| format!("{}: {}", foot.base_name, foot.base);
    steps.push(of("Bases:", &bases));
    let floor = |foot: &Foot| match foot.floor {
        true => {
            "screws into the floor take uplift and shear; downward load bears on the side grain of the floor".into()
        }
        false => "anchors take uplift and shear; downward load bears on the concrete".to_string(),
    };
    steps.push(of("Below the base,", &floor));
    let ground = |foot: &Foot| match foot.floor {
        true => format!("{}: the floor and all below it are designed by others, for the forces below", foot.foundation),
        false => foot.foundation.clone(),
    };
    steps.push(of("Foundations:", &ground));
    steps
}

fn holds(foot: &Foot, axis: usize) -> Holds {
    match foot.brace[axis].as_str() {
        "knee braces" => Holds::Braces,
        "shear walls" => Holds::Walls,
        "rigid frame" => Holds::Frame,
        "none" if foot.moment => Holds::Cantilever,
        "none" => Holds::Nothing,
        _ => Holds::Other,
    }
}

/// `held`: what the job calls it where it is none of those that are known.
fn by(holds: Holds, held: &str) -> &str {
    match holds {
        Holds::Braces => "knee braces",
        Holds::Walls => "shear walls",
        Holds::Frame => "rigid frame",
        Holds::Cantilever => "cantilevered posts",
        Holds::Nothing => "nothing",
        Holds::Other if held.is_empty() => "other, not named",
        Holds::Other => held,
    }
}

fn how(holds: Holds) -> &'static str {
    match holds {
        Holds::Braces => {
            "Posts, braces and beam of a line are a frame on hinged bases. A lateral load at the beam bends the posts and reaches their bases as shear; its couple loads the posts of the line up and down. Braces and their joints are designed by others, for the forces below."
        }
        Holds::Walls => {
            "Walls, designed by others, take the lateral load at the tops to the ground; a base takes the shear in its reactions."
        }
        Holds::Frame => {
            "Rigid joints of post and beam make a frame of each line, on the bases of its posts; the joints are designed by others."
        }
        Holds::Cantilever => {
            "No bracing at the tops: each post is a cantilever on a base that takes moment, which passes into the foundation."
        }
        Holds::Nothing => "Nothing holds the tops, and the bases are hinges: this is not met.",
        Holds::Other => "What holds the tops is designed and shown by others; a base takes the shear in its reactions.",
    }
}

fn sideways(feet: &[Foot], axis: usize) -> Vec<Sideways> {
    let mut rows: Vec<((Holds, &str), Vec<&str>)> = Vec::new();
    for foot in feet {
        let own = (holds(foot, axis), foot.held[axis].as_str());
        let marks = foot.marks.iter().map(String::as_str);
        match rows.iter_mut().find(|(known, _)| *known == own) {
            Some((_, known)) => known.extend(marks),
            None => rows.push((own, marks.collect())),
        }
    }
    let alone = rows.len() == 1;
    let row = |((holds, held), marks): ((Holds, &str), Vec<&str>)| Sideways {
        axis: AXES[axis].into(),
        marks: if alone { "all".into() } else { named(&marks) },
        by: by(holds, held).into(),
        how: how(holds).into(),
        changed: false,
    };
    rows.into_iter().map(row).collect()
}

/// The bay of an axis: as most posts have it.
fn bay(feet: &[Foot], axis: usize, roof: Option<&RoofOver>) -> Bay {
    let count = |holds: Holds| -> usize {
        feet.iter().filter(|foot| self::holds(foot, axis) == holds).map(|foot| foot.marks.len()).sum()
    };
    let mut kinds: Vec<Holds> = Vec::new();
    for own in feet.iter().map(|foot| holds(foot, axis)) {
        if !kinds.contains(&own) {
            kinds.push(own);
        }
    }
    kinds.sort_by_key(|holds| std::cmp::Reverse(count(*holds)));
    let name = |holds: &Holds| {
        let of = feet.iter().find(|foot| self::holds(foot, axis) == *holds);
        of.map_or("", |foot| by(*holds, &foot.held[axis]))
    };
    let names: Vec<&str> = kinds.iter().map(name).collect();
    let above = match roof {
        // The ridge runs across the axis of the bay.
        Some(roof) if roof.ridge != axis => match (roof.shape.as_str(), roof.high_plus) {
            ("pitched", _) => Above::Gable,
            ("troughed", _) => Above::Valley,
            ("monoslope", true) => Above::Right,
            ("monoslope", false) => Above::Left,
            _ => Above::Level,
        },
        _ => Above::Level,
    };
    Bay { title: format!("Along {}: {}", AXES[axis], names.join(", ")), holds: kinds[0], above }
}
