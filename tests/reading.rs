//! A job's files as they are read.

use std::collections::BTreeMap;
use std::fmt::Write;

use socle::job::Job;

use crate::support::root;

/// A job of very many posts, each with a base, a pier and reactions of its own.
fn many(posts: usize) -> BTreeMap<String, Vec<u8>> {
    let folder = root().join("fixtures/orchard-pergola");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).expect("a file of the job");
    let toml = read("job.toml");
    let head = toml.split("[site]").next().expect("the head of the file").to_string();
    let mut rows = String::from(
        "mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],species,grade,durable,incised,w_x [lbf/ft],w_y [lbf/ft],source",
    );
    for case in ["D", "L", "S", "W1", "W2", "W3", "W4", "E_x", "E_y"] {
        write!(rows, ",P_{case} [lbf],H_x_{case} [lbf],H_y_{case} [lbf]").expect("memory");
    }
    for post in 0..posts {
        let (x, y) = (post % 100 * 8, post / 100 * 8);
        write!(
            rows,
            "\nA{post},{x},{y},knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,Douglas Fir-Larch,No.1,treated,yes,20,20,demo"
        )
        .expect("memory");
        (0..27).for_each(|load| write!(rows, ",{}", 100 + post + load).expect("memory"));
    }
    let mut files: BTreeMap<String, Vec<u8>> =
        ["bases.csv", "foundations.csv", "anchors.csv"].map(|name| (name.to_string(), read(name).into_bytes())).into();
    files.insert("job.toml".into(), head.into_bytes());
    files.insert("posts.csv".into(), rows.into_bytes());
    files
}

/// How long it takes is measured in `benches/jobs.rs`.
#[test]
fn posts_share_what_they_choose() {
    let (files, known) = (many(2_000), socle::engine::known_names(&crate::jobs::library()));
    let job = Job::read("job", &files, &known).unwrap_or_else(|wrong| panic!("{wrong:#?}"));
    assert_eq!(job.posts.len(), 2_000);
    let base = |at: usize| &job.posts[at].entries["bases"];
    assert!(std::sync::Arc::ptr_eq(base(0), base(1_999)));
}
