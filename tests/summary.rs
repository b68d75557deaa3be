//! What `check` prints for a person: a line a post, what is not met, what is open.

use expect_test::expect;

use crate::support::{JOBS, Job, one_line, socle, stderr, stdout};

fn check(job: &Job, more: &[&str]) -> String {
    let path = job.path().display().to_string();
    let output = socle(&[&["check", &path], more].concat());
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    stdout(&output).replace(&path, "JOB")
}

/// Every word of a text stands whole in it, and no line is wider than a terminal.
fn fits(text: &str, wide: usize) {
    for line in text.lines() {
        assert!(line.chars().count() <= wide && line.trim_end() == line, "{line}|");
    }
}

#[test]
fn one_screen_says_how_a_job_stands() {
    let text = stdout(&socle(&["check", "fixtures/cart-barn"]));
    fits(&text, 80);
    expect![[r#"
        Cart barn, 7 Mill Road, Nowhere County

        post  governing limit    clause             combination        ratio
        D2    number of anchors  evaluation report                     2.000  NOT MET
        A2    tension and        AISC 360-16 H1.2   D + 0.6W2          0.929  met, close
              bending of a side
              plate at the seat
        A3    tension and        AISC 360-16 H1.2   D + 0.6W2          0.929  met, close
              bending of a side
              plate at the seat
        D3    bending and        NDS 2018 Eq.       1.055D + 0.75L +   0.916  met
              compression        3.9-3              0.75S − 0.6825E_x
              together
        D4    overturning        IBC 2021 1605.1.1  0.6D + 0.6W1       0.757  met
        A4    overturning        IBC 2021 1605.1.1  0.6D + 0.6W1       0.711  met
        D1    bending and        NDS 2018 3.1.2.1,  1.055D + 0.75L +   0.702  met
              compression at     3.6.3, 3.9.2       0.75S − 0.6825E_x
              the brace foot
        A1    overturning        IBC 2021 1605.1.1  0.6D + 0.6W1       0.544  met
        close: the verdict may turn within what typed values may be off, such as 1/64
        in; `--json` has each interval

        Not met:
          D2  number of anchors: 2 of 1, ratio 2.000
              evaluation report
              Remedy: install as many anchors as the values were published for

        Declared: no R, the roof drains freely.

        Open:
          2 decisions            wind cases that do not push the posts both ways along x
                                 (wind_x toward +x only); wind cases that do not push
                                 the posts both ways along y (wind_y toward +y only)
          31 unconfirmed values  anchor-phi (5 rows); clearances (2 rows);
                                 exposure-classes (4 rows); load-combinations (4 rows);
                                 and 10 more
          9 assumed values       bases.csv gap (none); [bracing] K_e (1); posts.csv
                                 base_moment (0 lbf·ft); [seismic] site_class (unknown);
                                 and 5 more
        `socle check fixtures/cart-barn --open` prints all of it, ready to be filled in.

        Not for construction until a licensed design professional has reviewed and
        sealed it.
        1 limit of post D2 is NOT MET. Also open: 2 decisions, 31 unconfirmed values and
        9 assumed values.
    "#]]
    .assert_eq(&text);
}

/// No clause, limit or combination of the table of all limits is broken in a word.
#[test]
fn words_are_not_broken() {
    for name in JOBS {
        let job = Job::copy(name);
        let json = job.check_json();
        let (all, short) = (check(&job, &["--all"]), check(&job, &[]));
        fits(&all, 80);
        fits(&short, 80);
        let known: Vec<&str> = all.split_whitespace().collect();
        for post in json["posts"].as_array().expect("posts") {
            for limit in post["limits"].as_array().expect("limits") {
                for key in ["limit", "cite", "combination"] {
                    for word in limit[key].as_str().expect("a text").split_whitespace() {
                        let whole = known
                            .iter()
                            .any(|known| known.trim_matches(['[', ']', ';', ':']) == word.trim_end_matches([';', ':']));
                        assert!(whole, "{name}: {word}");
                    }
                }
            }
        }
    }
}

/// The limits of one post are those of that post, whether all are asked for or not.
#[test]
fn all_limits_of_one_post() {
    let job = Job::copy("creek-porch");
    let (all, one) = (check(&job, &["--post", "P2", "--all"]), check(&job, &["--post", "P2"]));
    assert_eq!(all, one);
    assert!(one.starts_with("Post P2 ") && !one.contains("Post P1 "), "{one}");
}

/// The table has the verdict and the highest ratio of each post, as JSON has them.
#[test]
fn each_post_has_its_verdict_and_governing_ratio() {
    for name in JOBS {
        let job = Job::copy(name);
        let text = check(&job, &[]);
        let table: Vec<&str> = text.lines().skip(3).take_while(|line| !line.is_empty()).collect();
        let json = job.check_json();
        for post in json["posts"].as_array().expect("posts") {
            // Posts that are alike have one line, under the first of them.
            let alike = json["posts"].as_array().expect("posts").iter().find(|it| it["group"] == post["group"]);
            let mark = alike.expect("a post")["mark"].as_str().expect("a mark");
            let line = table.iter().find(|line| line.split([' ', ',']).next() == Some(mark));
            let line = line.unwrap_or_else(|| panic!("{name}: no line for {mark}\n{text}"));
            let word = if post["ok"] == true { "  met" } else { "  NOT MET" };
            assert!(line.trim_end_matches(", close").ends_with(word), "{line}");
            let driven = post["limits"]
                .as_array()
                .expect("limits")
                .iter()
                .filter(|limit| limit["ok"] == false || post["ok"] == true && limit["combination"] != "");
            let highest = driven.filter_map(|limit| limit["ratio"].as_f64()).fold(0.0, f64::max);
            assert!(line.contains(&format!("  {highest:.3}  ")), "{highest}: {line}");
        }
        let ratios: Vec<f64> = table.iter().filter_map(|line| line.rsplit("  ").nth(1)?.trim().parse().ok()).collect();
        assert!(ratios.len() > 1 && ratios.windows(2).all(|pair| pair[0] >= pair[1]), "{ratios:?}");
    }
}

#[test]
fn one_post_shows_every_limit_and_what_goes_together() {
    let job = Job::copy("creek-porch");
    let text = check(&job, &["--post", "P4", "--post", "p 1"]);
    fits(&text, 80);
    let [first, second] = ["Post P4 on foot 4:", "Post P1 on foot 6:"].map(|title| text.find(title).expect("a post"));
    assert!(first < second, "{text}");
    let plain = one_line(&text[..second]);
    let json = job.check_json();
    let post = json["posts"].as_array().expect("posts").iter().find(|post| post["mark"] == "P4").expect("P4");
    for (list, words) in [("limits", "limit"), ("fits", "fit")] {
        for limit in post[list].as_array().expect("a list") {
            // Words of a cell that stands beside others are not in one line: the first of them.
            let word = limit[words].as_str().expect("words").split(' ').next().expect("a word");
            assert!(plain.contains(word), "{word}");
        }
    }
    assert!(plain.contains("what goes together"), "{text}");
    let output = socle(&["check", &job.path().display().to_string(), "--post", "P44"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        stderr(&output),
        "error: there is no post `P44` in `posts.csv`\n = hint: did you mean `P4`?\n\n1 thing to fix; nothing was written\n"
    );
}

/// A limit that several posts fail is listed once, with all of them, and the last line names them.
#[test]
fn a_limit_that_fails_is_listed_once_with_its_posts() {
    let job = Job::copy("creek-porch");
    job.set("bases.csv", "foot 6", "uplift", "0.2");
    let text = check(&job, &[]);
    fits(&text, 80);
    assert_eq!(text.matches("\n  P1 to P3  ").count(), 2, "{text}");
    let last = one_line(&text);
    let last = last.rsplit("sealed it. ").next().expect("a line");
    assert!(last.starts_with("6 limits of posts P1 to P3 are NOT MET. Also open: "), "{last}");
}

/// No colour goes to a file, whatever a terminal has said.
#[test]
fn a_file_gets_no_colour() {
    let text = check(&Job::copy("cart-barn"), &[]) + &check(&Job::copy("cart-barn"), &["--all"]);
    assert!(!text.contains('\u{1b}'));
}

/// A hundred posts that differ: a line or two each, the worst first.
#[test]
fn a_hundred_posts_can_be_read() {
    let job = Job::copy("creek-porch");
    let text = job.read("posts.csv");
    let (head, rows) = text.split_once('\n').expect("headings");
    let row = rows.lines().next().expect("a row").split(',').skip(3).collect::<Vec<_>>().join(",");
    let posts: String = (0..100)
        .map(|at| {
            let load = 0.30 + f64::from(at) / 200.0;
            format!("P{at},{},0,{}\n", 8 * at, row.replacen("0.61", &format!("{load}"), 1))
        })
        .collect();
    job.write("posts.csv", format!("{head}\n{posts}"));
    let text = check(&job, &[]);
    fits(&text, 80);
    assert!(text.lines().count() < 400, "{text}");
}
