//! Lines of posts worked post by post: against frames that were solved whole,
//! and what all posts together bring to the ground.

use std::collections::BTreeMap;

use socle::engine::{Known, Lines, PostGrid, known_names};
use socle::formula::Value;
use socle::job::Job as Read;
use socle::quantity::{Dim, Quantity};
use socle::templates::Templates;

use crate::support::Job;

/// A row of `lines/frames.csv`: numbers by their heading without the unit.
type Row = BTreeMap<String, f64>;

/// The lines that the oracle solved whole, each with its posts.
fn solved() -> BTreeMap<String, Vec<Row>> {
    let text = std::fs::read_to_string("tests/lines/frames.csv").expect("the solved lines");
    let text: String = text.lines().filter(|line| !line.starts_with('#')).map(|line| format!("{line}\n")).collect();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header: Vec<String> =
        reader.headers().expect("a header").iter().map(|name| name.split(" [").next().unwrap_or(name).into()).collect();
    let mut lines: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for record in reader.records() {
        let record = record.expect("a row");
        let row: Row =
            header.iter().zip(&record).filter_map(|(name, cell)| Some((name.clone(), cell.parse().ok()?))).collect();
        lines.entry(record[1].to_string()).or_default().push(row);
    }
    lines
}

fn quantity(value: f64, dim: Dim) -> Value {
    Value::Quantity(Quantity::new(value, dim))
}

/// Forty lines with unlike bays, heights, sections and loads: the push of each
/// post, its couple, and the forces of its braces.
#[test]
fn a_line_worked_post_by_post_is_the_frame_worked_whole() {
    let library = Templates::built_in().library().expect("the built-in sheets are in order");
    let solved = solved();
    assert!(solved.len() >= 40);
    let mut pushed = 0;
    for (name, rows) in &solved {
        let mut posts = String::from("mark,x [ft],y [ft]\n");
        rows.iter().enumerate().for_each(|(no, row)| posts.push_str(&format!("P{no},{},0\n", row["x"])));
        let folder = Job::copy("orchard-pergola");
        let files: BTreeMap<String, Vec<u8>> = BTreeMap::from([
            ("posts.csv".into(), posts.into_bytes()),
            ("job.toml".into(), folder.read("job.toml").into_bytes()),
        ]);
        let (job, _) = Read::read_all("job", &files, &known_names(&library));
        let job = job.expect("a job");
        let grid = PostGrid::new(&job.posts);
        // Loads stand on the bays, and the sheets take the mean of two posts.
        let mut q = 0.0;
        let brought: Vec<Known> = rows
            .iter()
            .enumerate()
            .map(|(no, row)| {
                let feet = |name: &str| quantity(row[name] * 12.0, Dim::LENGTH);
                let psi = |name: &str| quantity(row[name], Dim::of(-2, 1));
                let (b, d) = (row["b_p"], row["d_p"]);
                let (b_b, d_b) = (row["b_b"], row["d_b"]);
                let own = q;
                q = 2.0 * row.get("w").copied().unwrap_or(0.0) / 12.0 - q;
                let lateral = if no == 0 { row["H"] } else { 0.0 };
                let pounds = |value: f64| quantity(value, Dim::FORCE);
                Known::from([
                    ("brace_x".into(), Value::Text("knee braces".into())),
                    ("brace_y".into(), Value::Text("none".into())),
                    ("h".into(), feet("h")),
                    ("a".into(), feet("a")),
                    ("b".into(), feet("b")),
                    ("E_p".into(), psi("E_p")),
                    ("I_p".into(), quantity(b * d.powi(3) / 12.0, Dim::of(4, 0))),
                    ("E_b".into(), psi("E_b")),
                    ("I_b".into(), quantity(b_b * d_b.powi(3) / 12.0, Dim::of(4, 0))),
                    ("W1.F_x".into(), pounds(lateral)),
                    ("W1.q_x".into(), quantity(own, Dim::of(-1, 1))),
                ])
            })
            .collect();
        let shares = Lines::new(&job, &library, &grid, &brought).and_then(|mut lines| lines.shares()).expect("a line");
        for (row, shares) in rows.iter().zip(&shares) {
            let share = shares["W1"][0];
            let found = [share.v, share.p, share.braces[0], share.braces[1]];
            for (wanted, found) in ["expect V", "expect P", "expect X_left", "expect X_right"].iter().zip(found) {
                let wanted = row[*wanted];
                assert!((found - wanted).abs() <= row["tolerance"].max(1e-3), "{name}: {found} for {wanted}");
                pushed += 1;
            }
        }
    }
    assert!(pushed > 400);
}
