//! Wrong input: every message as the user sees it. A message that changes on
//! purpose is written anew by `UPDATE_EXPECT=1 cargo test wrong` and read again.

use expect_test::{Expect, expect};

use crate::seismic::shake;
use crate::support::{Job, socle, stderr, stdout};

fn wrong_job(change: impl Fn(&Job), expected: Expect) {
    wrong_in("orchard-pergola", change, expected);
}

fn wrong_in(name: &str, change: impl Fn(&Job), expected: Expect) {
    let job = Job::copy(name);
    change(&job);
    let message = job.diagnostic();
    expected.assert_eq(&message);
    crate::hints::names_the_units_of(name, &message);
    crate::hints::obeying_gives_no_nonsense(name, &job, &message);
    // Nothing is written from wrong input.
    let target = job.path().join("out.pdf");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), target.as_os_str()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(!target.exists());
}

/// What does not go together fails the job, with what to do about it.
fn unfit(job: &Job, part: &str) {
    let json = job.check_json();
    let posts = json["posts"].as_array().expect("posts");
    let fits = posts.iter().flat_map(|post| post["fits"].as_array().expect("fits"));
    let failed: Vec<&serde_json::Value> = fits.filter(|fit| fit["ok"] == false).collect();
    let named = |fit: &&serde_json::Value| fit["fit"].as_str().expect("words").contains(part);
    assert!(!failed.is_empty() && failed.iter().all(named), "{failed:?}");
    assert_eq!(json["ok"], false);
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(1));
    let words = failed[0]["fit"].as_str().expect("words");
    assert!(stdout(&output).contains(&format!("  {words}\n")), "{}", stdout(&output));
}

fn wrong_sheet(body: &str, expected: Expect) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.sheet");
    std::fs::write(&path, format!("sheet own\ntitle mine\nneeds\n  a length \"x\"\n{body}\n")).expect("a file");
    let output = socle(&["sheets", &path.display().to_string()]);
    assert_eq!(output.status.code(), Some(2), "{}", stdout(&output));
    expected.assert_eq(&stderr(&output).replace(&folder.path().display().to_string(), "MINE"));
}

fn wrong_work(args: &[&str], expected: Expect) {
    let output = socle(&[&["work"], args].concat());
    assert_eq!(output.status.code(), Some(2), "{}", stdout(&output));
    expected.assert_eq(&stderr(&output));
}

#[test]
fn unit_of_another_dimension() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "width", r#"7 psi"#);
        },
        expect![[r#"
            error: posts.csv, width: found `psi`, a stress; expected a length in `in`
              ┌─ JOBS/orchard-pergola/posts.csv:2:32 (cell G2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 psi,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                ^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn word_for_a_number() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "width", r#"wide"#);
        },
        expect![[r#"
            error: posts.csv, width: found `wide`; expected a number
              ┌─ JOBS/orchard-pergola/posts.csv:2:32 (cell G2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,wide,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                ^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn empty_size() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "width", r#""#);
        },
        expect![[r#"
            error: post A1 has no `width` (width of the post, along x)
              ┌─ JOBS/orchard-pergola/posts.csv:2:1 (row 2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: put it in the column `width [in]`; expected a length
              = hint: or give a nominal size, such as 8x8, in a column nominal

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn zero_size() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "width", r#"0"#);
        },
        expect![[r#"
            error: `width` (width of the post, along x) is 0 in; the sheet `post-size` accepts at least 1 in
              ┌─ JOBS/orchard-pergola/posts.csv:2:32 (cell G2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,0,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                ^
              │
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn negative_size() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "depth", r#"-7.5"#);
        },
        expect![[r#"
            error: `depth` (depth of the post, along y) is −7.5 in; the sheet `post-size` accepts at least 1 in
              ┌─ JOBS/orchard-pergola/posts.csv:2:38 (cell H2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,-7.5,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                      ^^^^
              │
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn decimal_comma() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "width", r#"7,5"#);
        },
        expect![[r#"
            error: posts.csv, width: found `7,5`; write decimals with a point, as in `7.5`
              ┌─ JOBS/orchard-pergola/posts.csv:2:32 (cell G2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,"7,5",7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                ^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_species() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "species", r#"Douglas Fir Lark"#);
        },
        expect![[r#"
            error: NDS 2018 Table 12.3.3A: Assigned specific gravities has no row for species `Douglas Fir Lark`
              ┌─ JOBS/orchard-pergola/posts.csv:2:48 (cell K2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir Lark,No.1,treated,yes,one,80,demo
              │                                                ^^^^^^^^^^^^^^^^
              │
              = hint: did you mean `Douglas Fir-Larch`?
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_grade() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "grade", r#"No. 4"#);
        },
        expect![[r#"
            error: NDS Supplement 2018 Table 4D: Reference design values for visually graded timbers, 5 in. x 5 in. and larger has no row for grade `No. 4`
              ┌─ JOBS/orchard-pergola/posts.csv:2:66 (cell L2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No. 4,treated,yes,one,80,demo
              │                                                                  ^^^^^
              │
              = hint: did you mean `No.1`?
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_base() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A1", "base", r#"knife 9"#);
        },
        expect![[r#"
            error: post A1: there is no base `knife 9` in `bases.csv`
              ┌─ JOBS/orchard-pergola/posts.csv:2:8 (cell D2)
              │
            2 │ A1,0,0,knife 9,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │        ^^^^^^^
              │
              = hint: did you mean `knife 6`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn mark_twice() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A2", "mark", r#"A1"#);
        },
        expect![[r#"
            error: the mark `A1` appears twice
              ┌─ JOBS/orchard-pergola/posts.csv:3:1 (cell A3)
              │
            3 │ A1,16,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,demo
              │ ^^
              │
              = hint: the first is at JOBS/orchard-pergola/posts.csv:2:1 (row 2)

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn empty_mark() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A2", "mark", r#""#);
        },
        expect![[r#"
            error: line 3: a post without a mark
              ┌─ JOBS/orchard-pergola/posts.csv:3:1 (cell A3)
              │
            3 │ ,16,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,demo
              │ ^ this cell is empty

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn empty_source() {
    wrong_job(
        |job| {
            job.set("posts.csv", "A2", "source", r#""#);
        },
        expect![[r#"
            error: line 3: the source of the loads of this post is not given
              ┌─ JOBS/orchard-pergola/posts.csv:3:92 (cell Q3)
              │
            3 │ A2,16,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,
              │                                                                                            ^ this cell is empty
              │
              = hint: write it in the column `source`, such as `by hand, 2026-11-02`; `demo` marks invented data

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn load_in_feet() {
    wrong_in(
        "creek-porch",
        |job| {
            job.set("posts.csv", "P2", "P_D", r#"3 ft"#);
        },
        expect![[r#"
            error: post P2, P_D: found `ft`, a length; expected a force in `lbf` or `kip`
              ┌─ JOBS/creek-porch/posts.csv:3:58 (cell L3)
              │
            3 │ P2,8,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,3 ft,1.62,2.10,-1.98,0.31,0,14,14,demo
              │                                                          ^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn load_that_is_no_number() {
    wrong_in(
        "creek-porch",
        |job| {
            job.set("posts.csv", "P2", "P_S", r#"n/a"#);
        },
        expect![[r#"
            error: post P2, P_S: found `n/a`; expected a number
              ┌─ JOBS/creek-porch/posts.csv:3:68 (cell N3)
              │
            3 │ P2,8,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,1.15,1.62,n/a,-1.98,0.31,0,14,14,demo
              │                                                                    ^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_load_case() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("posts.csv", r#"P_S [kip]"#, r#"P_Q [kip]"#);
        },
        expect![[r#"
            error: `Q` is not a load case
              ┌─ JOBS/creek-porch/posts.csv:1:110 (cell N1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,P_D [kip],P_Lr [kip],P_Q [kip],P_W [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │                                                                                                              ^^^^^^^^^
              │
              = hint: the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_dead_load_column() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("posts.csv", r#"P_D [kip]"#, r#"dead [kip]"#);
        },
        expect![[r#"
            error: the column `dead` looks like a load, but nothing reads it
              ┌─ JOBS/creek-porch/posts.csv:1:89 (cell L1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,dead [kip],P_Lr [kip],P_S [kip],P_W [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │                                                                                         ^^^^^^^^^^
              │
              = hint: did you mean `P_D [kip]`?
              = hint: loads go in `P_CASE` (down positive), `H_x_CASE` and `H_y_CASE`; the cases are D, L, Lr, S, R, W1 and other winds, E_x, E_y
              = hint: a column of your own begins with `my `

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_mark_column() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"mark,"#, r#"post,"#);
        },
        expect![[r#"
            error: there is no column `mark`, which names a post on every page
              ┌─ JOBS/orchard-pergola/posts.csv:1:1 (row 1)
              │
            1 │ post,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn misspelt_column() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"height [ft]"#, r#"hieght [ft]"#);
        },
        expect![[r#"
            error: nothing reads a column `hieght`
              ┌─ JOBS/orchard-pergola/posts.csv:1:65 (cell I1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],hieght [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │                                                                 ^^^^^^^^^^^
              │
              = hint: did you mean `height`? a column of your own begins with `my `

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_unit_in_heading() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"width [in]"#, r#"width [inn]"#);
        },
        expect![[r#"
            error: in the heading `width [inn]`: `inn` is not a known unit
              ┌─ JOBS/orchard-pergola/posts.csv:1:43 (cell G1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [inn],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │                                           ^^^^^^^^^^^
              │
              = hint: did you mean `in`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn column_without_name() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"height [ft]"#, r#"[ft]"#);
        },
        expect![[r#"
            error: a column without a name
              ┌─ JOBS/orchard-pergola/posts.csv:1:65 (cell I1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],[ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │                                                                 ^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn column_twice() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"depth [in]"#, r#"width [in]"#);
        },
        expect![[r#"
            error: the column `width` appears twice
              ┌─ JOBS/orchard-pergola/posts.csv:1:54 (cell H1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],width [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │                                                      ^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn cell_under_no_column() {
    wrong_job(
        |job| {
            job.edit("posts.csv", r#"A1,0,0"#, r#"A1,extra,0,0"#);
        },
        expect![[r#"
            error: this row has more cells than the 17 columns of the first row
              ┌─ JOBS/orchard-pergola/posts.csv:2:96 (cell R2)
              │
            2 │ A1,extra,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                                                                                                ^^^^ `demo` is not under any column
              │
              = hint: a cell that contains the separator, such as "3,600 lb", goes in quotes

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn empty_posts() {
    wrong_job(
        |job| {
            job.write("posts.csv", "");
        },
        expect![[r#"
            error: `JOBS/orchard-pergola/posts.csv` is empty
             = hint: the first row holds the names of the columns, the other rows one item each

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn header_only() {
    wrong_job(
        |job| {
            let header = job.read("posts.csv").lines().next().expect("a header").to_string();
            job.write("posts.csv", header);
        },
        expect![[r#"
            error: `JOBS/orchard-pergola/posts.csv` has no posts

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_bases_file() {
    wrong_job(
        |job| {
            std::fs::remove_file(job.path().join("bases.csv")).expect("removed");
        },
        expect![[r#"
            error: there is no `bases.csv` in `JOBS/orchard-pergola`
             = hint: a job is a folder with `job.toml`, `posts.csv` and `bases.csv`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn base_twice() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 6", "name", r#"knife 8"#);
        },
        expect![[r#"
            error: the base `knife 8` appears twice
              ┌─ JOBS/orchard-pergola/bases.csv:3:1 (cell A3)
              │
            3 │ knife 8,made,2,hot-dip galvanized,4 1/2,4 1/2,1/2,A36,3/8,y,5/16,3 1/2,2,7/16,drift pins,4 3/4,1/4,15/32,A36,45,1,1,3 1/2,0,0,3/16,pipe,1.9,0.145,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │ ^^^^^^^
              │
              = hint: the first is at JOBS/orchard-pergola/bases.csv:2:1 (cell A2)

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn kind_of_base() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "kind", r#"welded"#);
        },
        expect![[r#"
            error: bases.csv, kind: found `welded`; expected `made`, `rated` or `sleeve`
              ┌─ JOBS/orchard-pergola/bases.csv:2:9 (cell B2)
              │
            2 │ knife 8,welded,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │         ^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn finish_of_base() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "finish", r#"galvanised"#);
        },
        expect![[r#"
            error: bases.csv, finish: found `galvanised`; expected `bare`, `painted`, `hot-dip galvanized`, `stainless` or `as the report allows`
              ┌─ JOBS/orchard-pergola/bases.csv:2:16 (cell D2)
              │
            2 │ knife 8,made,2,galvanised,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                ^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn count_that_is_broken() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "pins_in_row", r#"1.5"#);
        },
        expect![[r#"
            error: bases.csv, pins_in_row: found `1.5`; expected a whole number
              ┌─ JOBS/orchard-pergola/bases.csv:2:107 (cell U2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,1.5,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                                                           ^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn base_lacks_a_value() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "pin_length", r#""#);
        },
        expect![[r#"
            error: the base `knife 8` has no `pin_length` (length of the pins)
              ┌─ JOBS/orchard-pergola/bases.csv:2:1 (cell A2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │ ^^^^^^^
              │
              = hint: put it in the column `pin_length [in]` of `bases.csv`; expected a length

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn pin_too_thick_for_the_clause() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "pin_diameter", r#"1 1/4"#);
        },
        expect![[r#"
            error: `pin_diameter` (diameter of the pins) is 1.25 in; the sheet `blade-pins` accepts at most 1 in
              ┌─ JOBS/orchard-pergola/bases.csv:2:70 (cell N2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1 1/4,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                      ^^^^^
              │
              = hint: the limit is set by NDS 2018 12.1.3.1
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn pin_too_thin_for_the_sheet() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "pin_diameter", r#"3/16"#);
        },
        expect![[r#"
            error: `pin_diameter` (diameter of the pins) is 0.1875 in; the sheet `blade-pins` accepts at least 0.25 in
              ┌─ JOBS/orchard-pergola/bases.csv:2:70 (cell N2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,3/16,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                      ^^^^
              │
              = hint: the limit is set by NDS 2018 12.1.3.1
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn slot_wider_than_the_pin() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "slot", r#"7"#);
        },
        expect![[r#"
            error: `slot` (width of the slot for the blade) is 7 in; the sheet `blade-connection` accepts at most 3 in
              ┌─ JOBS/orchard-pergola/bases.csv:2:47 (cell I2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,7,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                               ^
              │
              = hint: for post A1

            error: the slot leaves no wood for the pins; check slot, pin_length, pin_taper and the size of the post
              ┌─ JOBS/orchard-pergola/bases.csv:2:82 (cell P2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,7,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                                  ^^^^^
              │
              = hint: `l_s` of the sheet `blade-pins` has no value
              = hint: for post A1, from `pin_length` 6 3/4 in (bases.csv), `slot` 7 in (bases.csv), `pin_taper` 1/8 in (bases.csv), `width` 7 1/2 in (posts.csv)
              = hint: the rule is in templates/sheets/base/blade-pins.sheet:50:5

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_key() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"durable ="#, r#"durabel ="#);
        },
        expect![[r#"
            error: unknown key `durabel` in `[wood]`
               ┌─ JOBS/orchard-pergola/job.toml:34:1
               │
            34 │ durabel = "natural"
               │ ^^^^^^^
               │
               = hint: did you mean `durable`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_table() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"[wood]"#, r#"[woods]"#);
        },
        expect![[r#"
            error: unknown table `[woods]` in `job.toml`
               ┌─ JOBS/orchard-pergola/job.toml:31:2
               │
            31 │ [woods]
               │  ^^^^^
               │
               = hint: did you mean `wood`?
               = hint: the tables are `[job]`, `[firm]`, `[code]`, `[loads]`, `[design_loads]`, `[bracing]`, `[roof]`, `[seismic]`, `[shop]`, `[site]` and `[wood]`; and there are `[[revisions]]`, `[[decisions]]` and `[[confirmed]]`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn missing_setting() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"service = "wet""#, r#""#);
        },
        expect![[r#"
            error: `job.toml` has no `service` (moisture in service: wet is over 19 percent)
               ┌─ JOBS/orchard-pergola/job.toml:31:1
               │
            31 │ [wood]
               │ ^^^^^^
               │
               = hint: write `service` under `[wood]`; expected `dry` or `wet`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn choice_of_setting() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"service = "wet""#, r#"service = "damp""#);
        },
        expect![[r#"
            error: job.toml, service: found `damp`; expected `dry` or `wet`
               ┌─ JOBS/orchard-pergola/job.toml:33:11
               │
            33 │ service = "damp"
               │           ^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn toml_syntax() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"name = "Orchard pergola""#, r#"name = Orchard pergola"#);
        },
        expect![[r#"
            error: `job.toml` cannot be read: string values must be quoted, expected literal string
              ┌─ JOBS/orchard-pergola/job.toml:7:8
              │
            7 │ name = Orchard pergola
              │        ^^^^^^^^^^^^^^^
              │
              = hint: a line reads `key = "text in quotes"` or `key = 12.5`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn bad_date() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"date = "2026-11-02""#, r#"date = "11/02/2026""#);
        },
        expect![[r#"
            error: found `11/02/2026`; expected a date such as `2026-11-02`
               ┌─ JOBS/orchard-pergola/job.toml:11:8
               │
            11 │ date = "11/02/2026"
               │        ^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_prepared_by() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"prepared_by = "R. Framer""#, r#""#);
        },
        expect![[r#"
            error: `[job]` has no `prepared_by`
              ┌─ JOBS/orchard-pergola/job.toml:6:1
              │
            6 │ [job]
              │ ^^^^^
              │
              = hint: who prepared the package; somebody else checks it

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn code_basis() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"IBC 2021"#, r#"IBC 2030"#);
        },
        expect![[r#"
            error: the code basis `IBC 2030` is not built in
               ┌─ JOBS/orchard-pergola/job.toml:22:9
               │
            22 │ basis = "IBC 2030"
               │         ^^^^^^^^^^
               │
               = hint: built in are `IBC 2021` and `IRC 2021`, with ASCE 7-16, NDS 2018, ACI 318-19 and AISC 360-16

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_setting() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#"wind = "as given""#, r#"wind = "reversed""#);
        },
        expect![[r#"
            error: found `reversed`; expected `as given` or `both signs`
               ┌─ JOBS/orchard-pergola/job.toml:25:8
               │
            25 │ wind = "reversed"
               │        ^^^^^^^^^^
               │
               = hint: `as given`: each wind case has its own sign; `both signs`: each acts in both directions

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn seismic_without_ground_motion() {
    wrong_in(
        "creek-porch",
        shake,
        expect![[r#"
            error: give the ground motion under [seismic] in job.toml, in one of two ways: S_DS and S_D1 (and S_1 where S_D1 is 0.2 or more), or S_S, S_1 and site_class; a hazard tool gives them for an address
             = hint: `S_DS` of the sheet `seismic-site` has no value
             = hint: for post P1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_ground_motion_for_concrete() {
    wrong_job(
        |job| {
            job.edit("job.toml", "S_S = 0.264\nS_1 = 0.08\n", "");
        },
        expect![[r#"
            error: give the ground motion under [seismic] in job.toml, in one of two ways: S_DS and S_D1 (and S_1 where S_D1 is 0.2 or more), or S_S, S_1 and site_class; a hazard tool gives them for an address
               ┌─ JOBS/orchard-pergola/job.toml:54:1
               │
            54 │ [seismic]
               │ ^^^^^^^^^
               │
               = hint: `S_DS` of the sheet `seismic-site` has no value
               = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn half_of_the_ground_motion() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("job.toml", "S_D1 = 0.30", "S_S = 0.7");
        },
        expect![[r#"
            error: the ground motion is given twice: leave out S_S, or S_DS and S_D1, which are calculated from it
               ┌─ JOBS/cart-barn/job.toml:62:8
               │
            62 │ S_DS = 0.52
               │        ^^^^
               │
               = hint: `S_DS` of the sheet `seismic-site` has no value
               = hint: for post A1, from `S_DS` 0.52 (job.toml)
               = hint: the rule is in templates/sheets/loads/seismic-site.sheet:33:7

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn ground_motion_twice() {
    wrong_job(
        |job| {
            job.edit("job.toml", "S_S = 0.264", "S_S = 0.264\nS_DS = 0.2");
        },
        expect![[r#"
            error: the ground motion is given twice: leave out S_S, or S_DS and S_D1, which are calculated from it
               ┌─ JOBS/orchard-pergola/job.toml:56:8
               │
            56 │ S_DS = 0.2
               │        ^^^
               │
               = hint: `S_DS` of the sheet `seismic-site` has no value
               = hint: for post A1, from `S_DS` 0.2 (job.toml)
               = hint: the rule is in templates/sheets/loads/seismic-site.sheet:33:7

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_mapped_value_of_one_second() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("job.toml", "S_1 = 0.24\n", "");
        },
        expect![[r#"
            error: give S_1 as well, under [seismic] in job.toml: where S_D1 is 0.2 or more, S_1 may be so large that it raises the category or the base shear (ASCE 7-16 11.6, Eq. 12.8-6)
               ┌─ JOBS/cart-barn/job.toml:63:8
               │
            63 │ S_D1 = 0.30
               │        ^^^^
               │
               = hint: `S_1` of the sheet `seismic-site` has no value
               = hint: for post A1, from `S_D1` 0.30 (job.toml)
               = hint: the rule is in templates/sheets/loads/seismic-site.sheet:41:7

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn ground_that_asks_for_a_study() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#""unknown""#, r#""F""#);
        },
        expect![[r#"
            error: this ground requires a site-specific study: site class F always, class E with an S_S of more than 0.75 or an S_1 of 0.2 or more, class D with an S_1 of 0.2 or more unless its exception is taken (ASCE 7-16 11.4.8); give S_DS and S_D1 of the study in place of S_S
               ┌─ JOBS/orchard-pergola/job.toml:57:14
               │
            57 │ site_class = "F"
               │              ^^^
               │
               = hint: `class` of the sheet `site-coefficients` has no value
               = hint: for post A1, from `site_class` F (job.toml), `S_1` 0.08 (job.toml), `S_S` 0.264 (job.toml)
               = hint: the rule is in templates/sheets/loads/site-coefficients.sheet:15:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn soft_ground_in_strong_motion() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#""unknown""#, r#""E""#);
            job.edit("job.toml", "S_S = 0.264", "S_S = 0.8");
        },
        expect![[r#"
            error: this ground requires a site-specific study: site class F always, class E with an S_S of more than 0.75 or an S_1 of 0.2 or more, class D with an S_1 of 0.2 or more unless its exception is taken (ASCE 7-16 11.4.8); give S_DS and S_D1 of the study in place of S_S
               ┌─ JOBS/orchard-pergola/job.toml:57:14
               │
            57 │ site_class = "E"
               │              ^^^
               │
               = hint: `class` of the sheet `site-coefficients` has no value
               = hint: for post A1, from `site_class` E (job.toml), `S_1` 0.08 (job.toml), `S_S` 0.8 (job.toml)
               = hint: the rule is in templates/sheets/loads/site-coefficients.sheet:15:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn exception_that_is_not_taken() {
    wrong_job(
        |job| {
            job.edit("job.toml", "S_1 = 0.08", "S_1 = 0.21\nexception_11_4_8 = false");
        },
        expect![[r#"
            error: this ground requires a site-specific study: site class F always, class E with an S_S of more than 0.75 or an S_1 of 0.2 or more, class D with an S_1 of 0.2 or more unless its exception is taken (ASCE 7-16 11.4.8); give S_DS and S_D1 of the study in place of S_S
               ┌─ JOBS/orchard-pergola/job.toml:58:14
               │
            58 │ site_class = "unknown"
               │              ^^^^^^^^^
               │
               = hint: `class` of the sheet `site-coefficients` has no value
               = hint: for post A1, from `site_class` unknown (job.toml), `S_1` 0.21 (job.toml), `exception_11_4_8` no (job.toml), `S_S` 0.264 (job.toml)
               = hint: the rule is in templates/sheets/loads/site-coefficients.sheet:15:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn redundancy_between() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("job.toml", "S_DS = 0.52", "S_DS = 0.52\nrho = 1.15");
        },
        expect![[r#"
            error: the redundancy factor is 1.0 or 1.3, and nothing in between
               ┌─ JOBS/cart-barn/job.toml:63:7
               │
            63 │ rho = 1.15
               │       ^^^^
               │
               = hint: `rho` of the sheet `seismic-site` has no value
               = hint: for post A1, from `rho` 1.15 (job.toml)
               = hint: the rule is in templates/sheets/loads/seismic-site.sheet:57:7

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn acceleration_in_percent() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("job.toml", "S_DS = 0.52", "S_DS = 52");
        },
        expect![[r#"
            error: `S_DS` (design spectral acceleration, short period) is 52; the sheet `seismic-site` accepts at most 4
               ┌─ JOBS/cart-barn/job.toml:62:8
               │
            62 │ S_DS = 52
               │        ^^
               │
               = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn site_class_as_a_word() {
    wrong_job(
        |job| {
            job.edit("job.toml", r#""unknown""#, r#""stiff soil""#);
        },
        expect![[r#"
            error: job.toml, site_class: found `stiff soil`; expected `A`, `B`, `C`, `D`, `E`, `F` or `unknown`
               ┌─ JOBS/orchard-pergola/job.toml:57:14
               │
            57 │ site_class = "stiff soil"
               │              ^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn redundancy_of_a_post() {
    wrong_job(
        |job| {
            let posts = job.read("posts.csv").replace("incised,brace", "incised,rho,brace");
            job.write("posts.csv", posts.replace(",yes,", ",yes,1.3,").replace(",no,", ",no,1.3,"));
        },
        expect![[r#"
            error: `rho` is not read from `posts.csv`
              ┌─ JOBS/orchard-pergola/posts.csv:1:123 (cell O1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,rho,brace_faces_x,timbers [lbf],source
              │                                                                                                                           ^^^
              │
              = hint: it applies to the whole job: write it once, under `[seismic]` in `job.toml`, and remove the column; a column of your own begins with `my `

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn keys_that_stand_under_seismic_now() {
    wrong_job(
        |job| {
            job.edit("job.toml", "[loads]\n", "[loads]\nS_DS = 0.28\nrho = 1.3\n");
            job.edit("job.toml", "[site]\n", "[site]\nsdc = \"B\"\nS_D1 = 0.11\nS_1 = 0.08\n");
        },
        expect![[r#"
            error: `S_DS` of `[loads]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:25:1
               │
            25 │ S_DS = 0.28
               │ ^^^^
               │
               = hint: move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ

            error: `rho` of `[loads]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:26:1
               │
            26 │ rho = 1.3
               │ ^^^
               │
               = hint: move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ

            error: `S_1` of `[site]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:42:1
               │
            42 │ S_1 = 0.08
               │ ^^^
               │
               = hint: move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ

            error: `S_D1` of `[site]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:41:1
               │
            41 │ S_D1 = 0.11
               │ ^^^^
               │
               = hint: move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ

            error: `sdc` of `[site]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:40:1
               │
            40 │ sdc = "B"
               │ ^^^
               │
               = hint: move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ

            5 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_symbol() {
    wrong_sheet(
        r#"let b = 2 * aa"#,
        expect![[r#"
            error: unknown symbol `aa`
              ┌─ MINE/own.sheet:5:13
              │
            5 │ let b = 2 * aa
              │             ^^
              │
              = hint: known here: `a`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn units_do_not_agree() {
    wrong_sheet(
        r#"let b = a + 3 psi"#,
        expect![[r#"
            error: adds a stress to a length
              ┌─ MINE/own.sheet:5:9
              │
            5 │ let b = a + 3 psi
              │         ^^^^^^^^^
              │
              = hint: both sides need the same dimension; check the units, or, if the code's formula hides them, write `where … in …, giving …`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn bound_twice() {
    wrong_sheet(
        r#"let b = a
let b = a"#,
        expect![[r#"
            error: `b` is bound twice
              ┌─ MINE/own.sheet:6:5
              │
            6 │ let b = a
              │     ^
              │
              = hint: a symbol has one value in a sheet; give the second one another name

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unused_input() {
    wrong_sheet(
        r#"let b = 3 in"#,
        expect![[r#"
            error: the input `a` is not used
              ┌─ MINE/own.sheet:4:3
              │
            4 │   a length "x"
              │   ^
              │
              = hint: use it in a formula, or take it out of `needs`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn limit_without_citation() {
    wrong_sheet(
        r#"must a <= 3 in "size" else "smaller""#,
        expect![[r#"
            error: a limit without a citation
              ┌─ MINE/own.sheet:5:6
              │
            5 │ must a <= 3 in "size" else "smaller"
              │      ^^^^^^^^^
              │
              = hint: name the clause in brackets: [NDS 2018 3.10.1]

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn limit_of_two_dimensions() {
    wrong_sheet(
        r#"must a <= 3 psi "size" [x] else "smaller""#,
        expect![[r#"
            error: compares a length with a stress
              ┌─ MINE/own.sheet:5:6
              │
            5 │ must a <= 3 psi "size" [x] else "smaller"
              │      ^^^^^^^^^^
              │
              = hint: both sides need the same dimension; check the units, or, if the code's formula hides them, write `where … in …, giving …`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_table_of_a_sheet() {
    wrong_sheet(
        r#"take G from specific-gravities[a]"#,
        expect![[r#"
            error: unknown table `specific-gravities`
              ┌─ MINE/own.sheet:5:13
              │
            5 │ take G from specific-gravities[a]
              │             ^^^^^^^^^^^^^^^^^^
              │
              = hint: did you mean `specific-gravity`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_sheet() {
    wrong_sheet(
        r#"use dowel-baring(D = a)"#,
        expect![[r#"
            error: unknown sheet `dowel-baring`
              ┌─ MINE/own.sheet:5:5
              │
            5 │ use dowel-baring(D = a)
              │     ^^^^^^^^^^^^
              │
              = hint: did you mean `dowel-bearing`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_input() {
    wrong_sheet(
        r#"use dowel-bearing(D = a, G = 0.5, thta = 0 deg)"#,
        expect![[r#"
            error: the sheet `dowel-bearing` has no input `thta`
              ┌─ MINE/own.sheet:5:35
              │
            5 │ use dowel-bearing(D = a, G = 0.5, thta = 0 deg)
              │                                   ^^^^
              │
              = hint: did you mean `theta`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn missing_input() {
    wrong_sheet(
        r#"use dowel-bearing(D = a)"#,
        expect![[r#"
            error: the sheet `dowel-bearing` also needs `G`
              ┌─ MINE/own.sheet:5:5
              │
            5 │ use dowel-bearing(D = a)
              │     ^^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn printed_in_another_unit() {
    wrong_sheet(
        r#"let b = 2 * a in psi"#,
        expect![[r#"
            error: `b` is a length, which is not printed in `psi`
              ┌─ MINE/own.sheet:5:9
              │
            5 │ let b = 2 * a in psi
              │         ^^^^^ this is a length
              │
              = hint: print it in `in` for example

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn hidden_units() {
    wrong_sheet(
        r#"let b = a^1.5"#,
        expect![[r#"
            error: a length can only be raised to a whole number that is written out
              ┌─ MINE/own.sheet:5:11
              │
            5 │ let b = a^1.5
              │           ^^^
              │
              = hint: if the code's formula hides units, write `where … in …, giving …`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_function() {
    wrong_sheet(
        r#"let b = sqr(a)"#,
        expect![[r#"
            error: unknown function `sqr`
              ┌─ MINE/own.sheet:5:9
              │
            5 │ let b = sqr(a)
              │         ^^^
              │
              = hint: did you mean `sqrt`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn open_bracket() {
    wrong_sheet(
        r#"let b = 2 * (a + 3 in"#,
        expect![[r#"
            error: found the end of the line, expected `)` to close the bracket
              ┌─ MINE/own.sheet:5:22
              │
            5 │ let b = 2 * (a + 3 in
              │                      ^
              │
              = hint: put `)` here, or go on with the line

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_last_case() {
    wrong_sheet(
        r#"let b = a when a > 3 in"#,
        expect![[r#"
            error: `b` has no value if no case applies
              ┌─ MINE/own.sheet:5:5
              │
            5 │ let b = a when a > 3 in
              │     ^
              │
              = hint: end with `VALUE otherwise`, or with `else "why there is no value"`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn symbol_of_a_block() {
    wrong_sheet(
        r#"when a > 3 in
  let b = a
let c = b"#,
        expect![[r#"
            error: `b` has a value only under its `when`; bind it under `otherwise` too, or move this line into the block
              ┌─ MINE/own.sheet:7:9
              │
            7 │ let c = b
              │         ^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn slip_in_a_word() {
    wrong_sheet(
        r#"lett b = 2 * a"#,
        expect![[r#"
            error: `lett` is not a word of the language
              ┌─ MINE/own.sheet:5:1
              │
            5 │ lett b = 2 * a
              │ ^^^^
              │
              = hint: did you mean `let`? If this is prose, write it without `=`, `<=` or `>=`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn deep_brackets() {
    wrong_sheet(
        r#"let b = ((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((a))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))"#,
        expect![[r#"
            error: brackets nested deeper than 64
              ┌─ MINE/own.sheet:5:73
              │
            5 │ let b = ((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((a))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))
              │                                                                         ^
              │
              = hint: give parts of the formula names of their own with `let`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn work_unknown_sheet() {
    wrong_work(
        &["dowel"],
        expect![[r#"
            error: there is no sheet `dowel`
             = hint: `socle sheets` lists them

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn work_without_inputs() {
    wrong_work(
        &["dowel-bearing"],
        expect![[r#"
            error: the sheet `dowel-bearing` also needs `G` and `D`
             = hint: G: number, specific gravity
             = hint: D: length, diameter of the dowel

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn work_without_equals() {
    wrong_work(
        &["dowel-bearing", "0.5"],
        expect![[r#"
            error: found `0.5`; an input is written `NAME=VALUE`
              ┌─ command line:1:1
              │
            1 │ 0.5
              │ ^^^
              │
              = hint: a value with a space in it goes in quotes: D="3/4 in"

            1 thing to fix; nothing was written
        "#]],
    );
}

const BRACED_BAY: [&str; 7] =
    ["brace-thrust", "w=100 lbf/ft", "h=10 ft", "E_p=1.3e6 psi", "I_p=264 in^4", "E_b=1.3e6 psi", "I_b=697 in^4"];

#[test]
fn work_braces_that_overlap() {
    wrong_work(
        &[&BRACED_BAY[..], &["L=12 ft", "a=3 ft", "b=6.5 ft"]].concat(),
        expect![[r#"
            error: the braces of the bay overlap: shorten their run
               ┌─ templates/sheets/loads/brace-thrust.sheet:30:5
               │
            30 │ let d = w * h * (L^3 - 2 * L * b^2 + b^3) / (24 * E_b * I_b) when 2 * b <= L
               │     ^
               │
               = hint: `d` of the sheet `brace-thrust` has no value

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn work_brace_below_the_base() {
    wrong_work(
        &[&BRACED_BAY[..], &["L=12 ft", "a=10 ft", "b=3 ft"]].concat(),
        expect![[r#"
            error: the foot of the brace is at or below the base: there is no knee-braced post
               ┌─ templates/sheets/loads/brace-thrust.sheet:27:5
               │
            27 │ let h_f = h - a when a < h
               │     ^^^
               │
               = hint: `h_f` of the sheet `brace-thrust` has no value

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn work_refused_angle() {
    wrong_work(
        &["dowel-bearing", "G=0.5", "D=0.5 in", "theta=95 deg"],
        expect![[r#"
            error: `theta` (angle of load to grain) is 95°; the sheet `dowel-bearing` accepts at most 90 deg
              ┌─ command line:1:7
              │
            1 │ theta=95 deg
              │       ^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_of_an_unknown_post() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("reactions.csv", "A1,D,", "A9,D,");
        },
        expect![[r#"
            error: there is no post `A9` in `posts.csv`
              ┌─ JOBS/cart-barn/reactions.csv:2:1 (cell A2)
              │
            2 │ A9,D,3150,-175,0,0,0
              │ ^^
              │
              = hint: known here: `A1`, `A2`, `A3`, `A4`, `D1`, `D2`, `D3` and `D4`

            error: post A1 has no row for `D`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_without_a_post() {
    wrong_in(
        "cart-barn",
        |job| {
            let text = job.read("reactions.csv");
            job.write(
                "reactions.csv",
                text.lines().filter(|line| !line.starts_with("A2,")).collect::<Vec<_>>().join("\n"),
            );
        },
        expect![[r#"
            error: post A2 is not in `JOBS/cart-barn/reactions.csv`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_without_a_case() {
    wrong_in(
        "cart-barn",
        |job| {
            let text = job.read("reactions.csv");
            job.write(
                "reactions.csv",
                text.lines().filter(|line| !line.starts_with("A2,S,")).collect::<Vec<_>>().join("\n"),
            );
        },
        expect![[r#"
            error: post A2 has no row for `S`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_twice() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("reactions.csv", "A2,S,", "A2,D,");
        },
        expect![[r#"
            error: case D of post A2 appears twice
               ┌─ JOBS/cart-barn/reactions.csv:13:1 (cell A13)
               │
            13 │ A2,D,6400,65,0,0,0
               │ ^^

            error: post A2 has no row for `S`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_of_an_unknown_case() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("reactions.csv", "A2,S,", "A2,snow,");
        },
        expect![[r#"
            error: `snow` is not a load case
               ┌─ JOBS/cart-barn/reactions.csv:13:4 (cell B13)
               │
            13 │ A2,snow,6400,65,0,0,0
               │    ^^^^
               │
               = hint: the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up

            error: post A2 has no row for `S`
              ┌─ JOBS/cart-barn/reactions.csv:1:1 (cell A1)
              │
            1 │ mark,case,P [lbf],H_x [lbf],H_y [lbf],w_x [lbf/ft],w_y [lbf/ft]
              │ ^^^^
              │
              = hint: give every post in every case, with zeros where a case has no effect

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn reactions_without_a_sign_convention() {
    wrong_in(
        "cart-barn",
        |job| {
            let text = job.read("job.toml");
            job.write(
                "job.toml",
                text.lines().filter(|line| !line.starts_with("signs")).collect::<Vec<_>>().join("\n"),
            );
        },
        expect![[r#"
            error: `[loads]` in `job.toml` does not give the sign convention of `reactions.csv`
             = hint: write `signs = "…"`: which way P, H_x and H_y point, and whether they act on the base or on the post

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn load_that_is_given_and_worked_out() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("posts.csv", "timbers [lbf]", "timbers [lbf],P_D [lbf]");
            job.write("posts.csv", job.read("posts.csv").replace(",demo", ",100,demo"));
        },
        expect![[r#"
            error: case D is given, and also calculated from `[roof]`
              ┌─ JOBS/orchard-pergola/posts.csv:2:1 (row 2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,100,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: leave out the given one, or remove `[roof]` from `job.toml`
              = hint: for posts A1, A2, A3, B1, B2 and B3

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn roof_beyond_the_figures() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "slope = \"0 deg\"", "slope = \"50 deg\"");
        },
        expect![[r#"
            error: `slope` is 50°; the sheet `post-loads` accepts at most 45 deg
               ┌─ JOBS/orchard-pergola/job.toml:66:9
               │
            66 │ slope = "50 deg"
               │         ^^^^^^^^
               │
               = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn roof_too_high_for_its_length() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "roof = \"slats\"", "roof = \"monoslope\"\nhigh = \"plus\"\nflow = \"clear\"\nroofing = \"3 psf\"\nsheathing = \"0 psf\"\ninsulation = \"0 psf\"\nceiling = \"0 psf\"\nfascia = \"6 in\"");
            job.edit("job.toml", "mean_height = \"9 ft 6 in\"", "mean_height = \"58 ft\"");
        },
        expect![[r#"
            error: `job.toml` has no `C_N_source` (source of these coefficients: a publication, or who determined them and how)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_N_source` under `[roof]`; expected a text
               = hint: h/L is outside the figures of ASCE 7-16 27.3.2, 0.25 to 1.0: an engineer has to give the net pressure coefficients of this roof, and their source

            error: `job.toml` has no `C_NW_A` (windward half, case A, wind across the ridge; used where h/L is outside the figures)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_NW_A` under `[roof]`; expected a number
               = hint: the net pressure on this part of the roof, divided by `q_h` and `G`: plus presses on its top, minus lifts it

            error: `job.toml` has no `C_NL_A` (leeward half, case A, wind across the ridge)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_NL_A` under `[roof]`; expected a number
               = hint: the same on the leeward half

            error: `job.toml` has no `C_NW_B` (windward half, case B, wind across the ridge)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_NW_B` under `[roof]`; expected a number
               = hint: case A is the one that presses most, case B the one that lifts most

            error: `job.toml` has no `C_NL_B` (leeward half, case B, wind across the ridge)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_NL_B` under `[roof]`; expected a number
               = hint: the same on the leeward half

            error: `job.toml` has no `C_N_along_A` (the whole roof, case A, wind along the ridge; used where h/L is outside the figures)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_N_along_A` under `[roof]`; expected a number
               = hint: the net pressure on this part of the roof, divided by `q_h` and `G`: plus presses on its top, minus lifts it

            error: `job.toml` has no `C_N_along_B` (the whole roof, case B, wind along the ridge)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `C_N_along_B` under `[roof]`; expected a number
               = hint: case A is the one that presses most, case B the one that lifts most

            7 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn site_without_wind() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "V = \"115 mph\"\n", "");
        },
        expect![[r#"
            error: `job.toml` has no `V` (basic wind speed for the risk category)
               ┌─ JOBS/orchard-pergola/job.toml:37:1
               │
            37 │ [site]
               │ ^^^^^^
               │
               = hint: write `V = "… mph"` under `[site]`; expected a speed

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn two_posts_in_one_place() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.set("posts.csv", "A2", "x", "0");
        },
        expect![[r#"
            error: post A2 is in the same place as post A1
              ┌─ JOBS/orchard-pergola/posts.csv:3:1 (row 3)
              │
            3 │ A2,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: check `x` and `y`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn unknown_foundation() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.set("posts.csv", "A2", "foundation", "pier 61");
        },
        expect![[r#"
            error: post A2: there is no foundation `pier 61` in `foundations.csv`
              ┌─ JOBS/orchard-pergola/posts.csv:3:17 (cell E3)
              │
            3 │ A2,16,0,knife 8,pier 61,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,demo
              │                 ^^^^^^^
              │
              = hint: did you mean `pier 16`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn post_without_anchor() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.set("posts.csv", "A2", "anchor", "");
        },
        expect![[r#"
            error: post A2 has no anchor
              ┌─ JOBS/orchard-pergola/posts.csv:3:1 (row 3)
              │
            3 │ A2,16,0,knife 8,pier 16,,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,both,90,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: name a row of `anchors.csv` in the column `anchor` of `posts.csv`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn anchor_of_an_unknown_grade() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.set("anchors.csv", "rod 1/2", "rod_grade", "F1554 Grade 63");
        },
        expect![[r#"
            error: ASTM F1554 and ISO 898-1 anchor rods has no row for grade `F1554 Grade 63`
              ┌─ JOBS/orchard-pergola/anchors.csv:2:20 (cell E2)
              │
            2 │ rod 1/2,cast,1/2,8,F1554 Grade 63,hex,demo
              │                    ^^^^^^^^^^^^^^
              │
              = hint: did you mean `F1554 Grade 36`?
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn weak_concrete() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.set("foundations.csv", "pier 16", "f_c'", "2000");
        },
        expect![[r#"
            error: `f_c'` (concrete strength) is 2,000 psi; the sheet `concrete-exposure` accepts at least 2500 psi
              ┌─ JOBS/orchard-pergola/foundations.csv:2:14 (cell C2)
              │
            2 │ pier 16,pier,2000,round,16,57,yes,30,30,10,reinforced,No. 4,6,2,straight,hook,No. 3,6,demo
              │              ^^^^
              │
              = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn roof_with_walls() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "enclosure = \"open\"", "enclosure = \"partly enclosed\"");
        },
        expect![[r#"
            error: the loads rest on this, which is not met: the roof is open: every wall at least 80 percent open
             = hint: enter reactions from an analysis: walls under the roof cause internal pressure and wind on the walls, which are not covered here
             = hint: for posts A1, A2, A3, B1, B2 and B3

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn roof_under_a_higher_one() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "higher_roof = \"no\"", "higher_roof = \"yes\"");
        },
        expect![[r#"
            error: the loads rest on this, which is not met: drift or sliding snow from the higher roof
             = hint: calculate the drift and the sliding snow of each post by 7.7 and 7.9, and enter it in a column drift of posts.csv
             = hint: for posts A1, A2, A3, B1, B2 and B3

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn column_that_is_nearly_one() {
    wrong_job(
        |job| {
            job.edit("posts.csv", "timbers [lbf]", "timber [lbf]");
        },
        expect![[r#"
            error: nothing reads a column `timber`
              ┌─ JOBS/orchard-pergola/posts.csv:1:137 (cell P1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timber [lbf],source
              │                                                                                                                                         ^^^^^^^^^^^^
              │
              = hint: did you mean `timbers`? a column of your own begins with `my `

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_in_two_halves() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("posts.csv", "P_W [kip]", "P_W_up [kip]");
        },
        expect![[r#"
            error: case W_up has no shear and case W has no axial load: they would never act together
              ┌─ JOBS/creek-porch/posts.csv:1:1 (row 1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,P_D [kip],P_Lr [kip],P_S [kip],P_W_up [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: if they are one wind, give them one name: `P_W_up`, `H_x_W_up`, `H_y_W_up`
              = hint: if they are two, give each the columns that it lacks, with zeros

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn grid_with_a_gap() {
    wrong_job(
        |job| {
            let text = job.read("posts.csv");
            let kept: Vec<&str> = text.lines().filter(|line| !line.starts_with("A3,")).collect();
            job.write("posts.csv", kept.join("\n"));
        },
        expect![[r#"
            error: the posts carry 240 ft² of the 384 ft² of roof between them: their grid has a gap, or a post out of line
              ┌─ JOBS/orchard-pergola/posts.csv:1:1 (row 1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,anchor,width [in],depth [in],height [ft],base_level [in],species,grade,durable,incised,brace_faces_x,timbers [lbf],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: posts within 2 ft of a line count as on it
              = hint: for a post that is not on the grid say which part of the roof it carries, with its overhang, in columns `roof_from_x [ft]`, `roof_to_x [ft]`, `roof_from_y [ft]` and `roof_to_y [ft]` of `posts.csv`
              = hint: where these columns are empty a post carries the roof halfway to its neighbours in line: fill them in for the posts beside it too, so that the parts make up the whole roof
              = hint: or give the loads in columns or in `reactions.csv`, without `[roof]`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn reaction_left_blank() {
    wrong_in(
        "cart-barn",
        |job| {
            let text = job.read("reactions.csv");
            let row = text.lines().nth(1).expect("a row").to_string();
            let cells: Vec<&str> = row.split(',').collect();
            let mut blank = cells.clone();
            blank[2] = "";
            job.write("reactions.csv", text.replace(&row, &blank.join(",")));
        },
        expect![[r#"
            error: post A1, case D has no P
              ┌─ JOBS/cart-barn/reactions.csv:2:6 (cell C2)
              │
            2 │ A1,D,,-175,0,0,0
              │      ^
              │
              = hint: write 0 where there is none

            1 thing to fix; nothing was written
        "#]],
    );
}

/// A fault found deep in a sheet is marked in the cell that it comes from.
#[test]
fn anchors_outside_the_plate() {
    wrong_job(
        |job| {
            job.set("bases.csv", "knife 8", "anchor_s_x", "12");
        },
        expect![[r#"
            error: the anchors are outside the plate
              ┌─ JOBS/orchard-pergola/bases.csv:2:152 (cell AE2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,12,4,demo
              │                                                                                                                                                        ^
              │
              = hint: `e_y` of the sheet `anchor-plate` has no value
              = hint: for post A1, from `foot_width` 6 in (bases.csv), `anchors_y` 2 (bases.csv), `anchors_x` 2 (bases.csv), `anchor_s_x` 12 in (bases.csv)
              = hint: the rule is in templates/sheets/base/anchor-plate.sheet:38:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn catalogue_that_is_not_there() {
    wrong_job(
        |job| std::fs::remove_file(job.path().join("anchors.csv")).expect("the file"),
        expect![[r#"
            error: the job has no `anchors.csv`, in which `rod 1/2` should be a row
              ┌─ JOBS/orchard-pergola/posts.csv:2:24 (cell F2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │                        ^^^^^^^
              │
              = hint: write `anchors.csv`, with a row for each anchor

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn quote_that_is_not_closed() {
    wrong_job(
        |job| {
            job.edit("posts.csv", "A1,0,0", "\"A1,0,0");
        },
        expect![[r#"
            error: a quote opens here and is not closed
              ┌─ JOBS/orchard-pergola/posts.csv:2:1 (cell A2)
              │
            2 │ "A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

/// Spreadsheets put quotes around a cell of several lines.
#[test]
fn a_cell_of_several_lines_is_no_fault() {
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", "demo\nP2", "\"demo\nsecond line\"\nP2");
    assert!(!job.check_json()["posts"].as_array().expect("posts").is_empty());
}

#[test]
fn heights_that_do_not_add_up() {
    let job = Job::copy("cart-barn");
    job.edit("foundations.csv", "38,38,30,22,", "38,38,30,30,");
    unfit(&job, "height");
}

#[test]
fn pad_narrower_than_its_pier() {
    wrong_job(
        |job| {
            job.edit("foundations.csv", "yes,30,30,10", "yes,12,30,10");
        },
        expect![[r#"
            error: the pad has to be at least as wide as the pier on it; check pad_x, pad_y and pier_b
              ┌─ JOBS/orchard-pergola/foundations.csv:2:25 (cell E2)
              │
            2 │ pier 16,pier,4500,round,16,57,yes,12,30,10,reinforced,No. 4,6,2,straight,hook,No. 3,6,demo
              │                         ^^
              │
              = hint: `A_s` of the sheet `foundation-weight` has no value
              = hint: for post A1, from `pier_b` 16 in (foundations.csv), `pad_x` 12 in (foundations.csv), `pad` yes (foundations.csv), `pad_y` 30 in (foundations.csv), `pad_t` 10 in (foundations.csv)
              = hint: the rule is in templates/sheets/ground/foundation-weight.sheet:25:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_in_the_wrong_unit() {
    wrong_job(
        |job| {
            job.edit("job.toml", "V = \"115 mph\"", "V = \"115 ft/s\"");
        },
        expect![[r#"
            error: `V` (basic wind speed for the risk category) is 115 ft/s; the sheet `post-loads` accepts at least 80 mph
               ┌─ JOBS/orchard-pergola/job.toml:49:5
               │
            49 │ V = "115 ft/s"
               │     ^^^^^^^^^^
               │
               = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn roof_that_weighs_nothing() {
    wrong_job(
        |job| {
            job.edit("job.toml", "rafters = \"6 psf\"", "rafters = \"0 psf\"");
        },
        expect![[r#"
            error: a roof weighs something: give roofing, sheathing, insulation, rafters, ceiling or other under [roof] in job.toml
               ┌─ JOBS/orchard-pergola/job.toml:72:11
               │
            72 │ rafters = "0 psf"
               │           ^^^^^^^
               │
               = hint: `w` of the sheet `dead-load` has no value
               = hint: for post A1, from `rafters` 0 psf (job.toml), `other` 0 psf (job.toml)
               = hint: the rule is in templates/sheets/loads/dead-load.sheet:28:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn pipe_with_a_wall_too_thick() {
    wrong_job(
        |job| {
            job.edit("bases.csv", "0.154", "1.54");
        },
        expect![[r#"
            error: the wall is as thick as half the pipe; check the diameter and the wall
              ┌─ JOBS/orchard-pergola/bases.csv:2:131 (cell AB2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,1.54,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                                                                                   ^^^^^
              │
              = hint: `o` of the sheet `blade-seat` has no value
              = hint: for post A1, from `leg` 2 3/8 in (bases.csv), `leg_shape` pipe (bases.csv), `leg_thick` 1.54 in (bases.csv)
              = hint: the rule is in templates/sheets/base/blade-seat.sheet:51:9

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn bending_yield_without_its_kip() {
    wrong_job(
        |job| {
            job.edit("bases.csv", "F_yb [ksi]", "F_yb [psi]");
        },
        expect![[r#"
            error: `F_yb` (bending yield strength of the pins) is 45 psi; the sheet `blade-pins` accepts at least 20 ksi
              ┌─ JOBS/orchard-pergola/bases.csv:2:104 (cell T2)
              │
            2 │ knife 8,made,2,hot-dip galvanized,6,6,5/8,A36,9/16,y,1/2,4 1/2,1 1/2,1/2,drift pins,6 3/4,1/8,9/16,A36,45,2,1,4,2 1/2,0,3/16,pipe,2 3/8,0.154,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                                                        ^^
              │
              = hint: for post A1

            error: `F_yb` (bending yield strength of the pins) is 45 psi; the sheet `blade-pins` accepts at least 20 ksi
              ┌─ JOBS/orchard-pergola/bases.csv:3:110 (cell T3)
              │
            3 │ knife 6,made,2,hot-dip galvanized,4 1/2,4 1/2,1/2,A36,3/8,y,5/16,3 1/2,2,7/16,drift pins,4 3/4,1/4,15/32,A36,45,1,1,3 1/2,0,0,3/16,pipe,1.9,0.145,A53 Gr B,6,6,1/2,2,2,4,4,demo
              │                                                                                                              ^^
              │
              = hint: for post B1

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn drill_of_another_anchor() {
    let job = Job::copy("cart-barn");
    job.edit("anchors.csv", "yes,5/8,5 1/2,", "yes,1,5 1/2,");
    unfit(&job, "drill");
}

#[test]
fn load_duration_as_a_percentage() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("bases.csv", "1.0,1.6,0.50,1,5 3/8", "1.0,160,0.50,1,5 3/8");
        },
        expect![[r#"
            error: `C_D_up` (load duration factor of the published uplift, lateral values and moments) is 160; the sheet `rated-base` accepts at most 2
              ┌─ JOBS/creek-porch/bases.csv:2:73 (cell L2)
              │
            2 │ foot 6,rated,1/2,hot-dip galvanized,5 1/2,5 1/2,4.00,1.15,0.62,0.62,1.0,160,0.50,1,5 3/8,5 5/8,8,3 1/2,4,1/4,demo report 2,2026-01-15,2028-01-15,lag,1/4,3,60,2,2,3,2 1/2,0.1875,61.85,demo
              │                                                                         ^^^
              │
              = hint: for post P1

            1 thing to fix; nothing was written
        "#]],
    );
}

/// A sheet of the job's own that the rest of the sheets cannot go with.
fn wrong_own(text: &str, expected: Expect) {
    let job = Job::copy("creek-porch");
    job.write("templates/sheets/own/own.sheet", text);
    expected.assert_eq(&job.diagnostic());
}

#[test]
fn joins_no_sheet() {
    wrong_own(
        "sheet own\ntitle mine\njoins posts\nneeds\n  b length from post-size \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: there is no sheet `posts` to join
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:3:7
              │
            3 │ joins posts
              │       ^^^^^
              │
              = hint: did you mean `post`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn stands_in_no_place() {
    wrong_own(
        "sheet own\ntitle mine\nstands as bases when kind is mine\nneeds\n  b length from post-size \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: there is no open place `bases`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:3:11
              │
            3 │ stands as bases when kind is mine
              │           ^^^^^
              │
              = hint: did you mean `base`?

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn stands_where_another_stands() {
    wrong_own(
        "sheet own\ntitle mine\nstands as ground when ground is wood\nneeds\n  b length from post-size \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: `wood-floor` stands as `ground` too when ground is wood
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:3:11
              │
            3 │ stands as ground when ground is wood
              │           ^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_candidate_that_gives_too_little() {
    wrong_own(
        "sheet own\ntitle mine\nstands as fixings when ground is ice\nneeds\n  b length from post-size \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: `own` does not give `on`, `fixed_x`, `fixed_y`, `apart_x`, `apart_y`, `n_fixed`, `d_fixed` and `deep`, which `fixings` promises
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:3:11
              │
            3 │ stands as fixings when ground is ice
              │           ^^^^^^^
              │
              = hint: missing under its `gives`:
              = hint: on  one of concrete, wood  "what the base stands on"
              = hint: fixed_x  count  "anchors or screws along x"
              = hint: fixed_y  count  "anchors or screws along y"
              = hint: apart_x  length  "distance between the outermost ones, along x"
              = hint: apart_y  length  "distance between the outermost ones, along y"
              = hint: n_fixed  count  "anchors or screws to be installed"
              = hint: d_fixed  length  "their diameter"
              = hint: deep  length  "their depth of embedment"

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_column_of_two_kinds() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  h force from posts.height \"x\"\nlet a = 2 * h  \"twice\"\n",
        expect![[r#"
            error: the column `height` of posts is a force here, and a length in `brace-forces`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:5:3
              │
            5 │   h force from posts.height "x"
              │   ^
              │
              = hint: all sheets that read a column agree on its kind, its default and its unit; `socle sheets --columns` prints them

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_column_of_two_defaults() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  K_e number from bracing else 1.2 \"x\"\nlet a = 2 * K_e  \"twice\"\n",
        expect![[r#"
            error: the column `K_e` of bracing is 1.2 by default here, and 1 by default in `post-moment`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:5:3
              │
            5 │   K_e number from bracing else 1.2 "x"
              │   ^^^
              │
              = hint: all sheets that read a column agree on its kind, its default and its unit; `socle sheets --columns` prints them

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_shop_page_that_the_loads_change() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  P force from combination \"x\"\nshop\n  let a = 2 * P  \"twice\"\n",
        expect![[r#"
            error: the load combination changes this, which goes to the shop or the site
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:7:7
              │
            7 │   let a = 2 * P  "twice"
              │       ^
              │
              = hint: what is made and set is one thing for all combinations: take it from what the files say

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_symbol_of_a_sheet_that_is_not_above() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  l_s length from blade-pins \"x\"\nlet a = 2 * l_s  \"twice\"\n",
        expect![[r#"
            error: nothing above `own` gives `l_s` of `blade-pins`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:5:3
              │
            5 │   l_s length from blade-pins "x"
              │   ^^^
              │
              = hint: an input can come from a sheet or an open place that is used before it: in the same sheet, or in one that uses it
              = hint: what is inside a sheet that is used is private; it gives what its `gives` lists

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_symbol_that_its_sheet_keeps_to_itself() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  F_c_star stress from column \"x\"\nlet a = 2 * F_c_star  \"twice\"\n",
        expect![[r#"
            error: the sheet `column` does not give `F_c_star`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:5:3
              │
            5 │   F_c_star stress from column "x"
              │   ^^^^^^^^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_sheet_that_is_used_twice() {
    let job = Job::copy("creek-porch");
    let below =
        "sheet below\ntitle mine\nneeds\n  F_e_par stress from dowel-bearing \"x\"\nlet a = 2 * F_e_par  \"twice\"\n";
    let twice = "use dowel-bearing(G = 0.5, D = 0.5 in, theta = 0 deg)\nuse dowel-bearing(G = 0.4, D = 0.5 in, theta = 0 deg) as other\n";
    job.write("templates/sheets/own/below.sheet", below);
    job.write("templates/sheets/own/own.sheet", format!("sheet own\ntitle mine\njoins post\n{twice}use below\n"));
    expect![[r#"
        error: `F_e_par` of the sheet `below` has to be passed
          ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:6:5
          │
        6 │ use below
          │     ^^^^^
          │
          = hint: it comes from `dowel-bearing`, which is used more than once here

        1 thing to fix; nothing was written
    "#]]
    .assert_eq(&job.diagnostic());
}

#[test]
fn gives_what_nothing_binds() {
    wrong_own(
        "sheet own\ntitle mine\njoins post\nneeds\n  b length from post-size \"x\"\ngives\n  c length \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: `c` is listed under `gives`, but nothing binds it
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:7:3
              │
            7 │   c length "x"
              │   ^

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_fit_without_a_remedy() {
    wrong_sheet(
        "fit a > 0 in  \"it is there\"",
        expect![[r#"
            error: a fit without a remedy
              ┌─ MINE/own.sheet:5:5
              │
            5 │ fit a > 0 in  "it is there"
              │     ^^^^^^^^
              │
              = hint: end with `else "what to do if it is not met"`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_piece_that_is_no_number() {
    wrong_sheet(
        "piece a \"rod\"",
        expect![[r#"
            error: the amount is a length
              ┌─ MINE/own.sheet:5:7
              │
            5 │ piece a "rod"
              │       ^
              │
              = hint: a piece is counted, or has a unit after it: `piece concrete "concrete" in ft^3`

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_limit_on_a_page() {
    wrong_sheet(
        "shop\n  must a > 0 in  \"it is there\" [common practice, no source] else \"look for it\"",
        expect![[r#"
            error: a limit does not belong on a page for the shop or the site
              ┌─ MINE/own.sheet:6:8
              │
            6 │   must a > 0 in  "it is there" [common practice, no source] else "look for it"
              │        ^^^^^^^^
              │
              = hint: put it before the page: what is worked there can be shown on it

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_wind_on_the_posts() {
    wrong_in(
        "cart-barn",
        |job| {
            let rows = job.read("reactions.csv");
            let rows: Vec<&str> = rows.lines().map(|row| row.rsplitn(3, ',').last().expect("a row")).collect();
            job.write("reactions.csv", rows.join("\n"));
        },
        expect![[r#"
            error: the wind on the posts themselves is not given: `w_x` and `w_y` of `A1`, `A2` and 6 more
              ┌─ JOBS/cart-barn/posts.csv:1:1 (row 1)
              │
            1 │ mark;x [ft];y [ft];base;foundation;anchor;width;depth;height;species;grade;brace_faces_x;fasteners;source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: give `w_x [lbf/ft]` and `w_y [lbf/ft]` in `posts.csv`, the wind per foot of the post: it acts in every wind case of the post; write 0 where no wind reaches the post, or where its reactions include that wind
              = hint: a case has its own in columns such as `w_x_W1 [lbf/ft]`, or in `w_x [lbf/ft]` and `w_y [lbf/ft]` of `reactions.csv`
              = hint: `socle work wind-members q_z="20 psf" member=flat face="7.5 in"` calculates it from the velocity pressure and the width of the post (ASCE 7-16 29.4)

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_wind_on_some_posts() {
    wrong_in(
        "creek-porch",
        |job| {
            job.set("posts.csv", "P2", "w_x", "");
            job.set("posts.csv", "P4", "w_x", "");
        },
        expect![[r#"
            error: the wind on the posts themselves is not given: `w_x` of `P2` and `P4`
              ┌─ JOBS/creek-porch/posts.csv:1:1 (row 1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,P_D [kip],P_Lr [kip],P_S [kip],P_W [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: give `w_x [lbf/ft]` in `posts.csv`, the wind per foot of the post: it acts in every wind case of the post; write 0 where no wind reaches the post, or where its reactions include that wind
              = hint: a case has its own in columns such as `w_x_W1 [lbf/ft]`, or in `w_x [lbf/ft]` and `w_y [lbf/ft]` of `reactions.csv`
              = hint: `socle work wind-members q_z="20 psf" member=flat face="7.5 in"` calculates it from the velocity pressure and the width of the post (ASCE 7-16 29.4)

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_on_the_posts_below_zero() {
    wrong_in(
        "creek-porch",
        |job| {
            job.set("posts.csv", "P2", "w_x", "-14");
        },
        expect![[r#"
            error: posts.csv, w_x: found `-14`; wind on the post cannot be negative
              ┌─ JOBS/creek-porch/posts.csv:3:86 (cell R3)
              │
            3 │ P2,8,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,1.15,1.62,2.10,-1.98,0.31,0,-14,14,demo
              │                                                                                      ^^^
              │
              = hint: leave out the sign: it acts in the direction of the shear of its wind case

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_on_the_posts_given_and_worked_out() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("posts.csv", "timbers [lbf]", "timbers [lbf],w_x [lbf/ft]");
            let text = job.read("posts.csv").replace(",demo", ",0,demo");
            job.write("posts.csv", text);
        },
        expect![[r#"
            error: the wind on the posts is given, `w_x`, and also calculated from `[roof]`
              ┌─ JOBS/orchard-pergola/posts.csv:2:90 (cell Q2)
              │
            2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,80,0,demo
              │                                                                                          ^
              │
              = hint: leave out the column `w_x`, or remove `[roof]` from `job.toml` and give the wind cases

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn wind_on_the_posts_in_snow() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("reactions.csv", "A2,S,6400,65,0,0,0", "A2,S,6400,65,0,26,0");
        },
        expect![[r#"
            error: post A2, case S: wind on the post goes with wind cases, and S is not one
               ┌─ JOBS/cart-barn/reactions.csv:13:16 (cell F13)
               │
            13 │ A2,S,6400,65,0,26,0
               │                ^^
               │
               = hint: leave it out here

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn nominal_size_against_the_width() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("job.toml", "[wood]", "[wood]\ndressed = \"green\"");
            job.edit("posts.csv", "width [in]", "nominal,width [in]");
            job.write("posts.csv", job.read("posts.csv").replace(",rim beam,", ",rim beam,6x6,"));
        },
        expect![[r#"
            error: the width is not that of the nominal size: leave out nominal, or width and depth
              ┌─ JOBS/creek-porch/posts.csv:5:29 (cell G5)
              │
            5 │ P4,22,2,foot 4,rim beam,6x6,3.5,3.5,7 ft 6 in,Hem-Fir,No.1,6,0.48,0.70,0.92,-0.88,0.15,0,9,9,demo
              │                             ^^^
              │
              = hint: `b` of the sheet `post-size` has no value
              = hint: for post P4, from `width` 3.5 in (posts.csv), `nominal` 6x6 (posts.csv), `dressed` green (job.toml)
              = hint: the rule is in templates/sheets/wood/post-size.sheet:17:9

            error: the depth is not that of the nominal size: leave out nominal, or width and depth
              ┌─ JOBS/creek-porch/posts.csv:5:33 (cell H5)
              │
            5 │ P4,22,2,foot 4,rim beam,6x6,3.5,3.5,7 ft 6 in,Hem-Fir,No.1,6,0.48,0.70,0.92,-0.88,0.15,0,9,9,demo
              │                                 ^^^
              │
              = hint: `d` of the sheet `post-size` has no value
              = hint: for post P4, from `depth` 3.5 in (posts.csv), `nominal` 6x6 (posts.csv), `dressed` green (job.toml)
              = hint: the rule is in templates/sheets/wood/post-size.sheet:22:9

            2 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_post_without_a_size() {
    wrong_in(
        "creek-porch",
        |job| {
            job.set("posts.csv", "P3", "depth", "");
        },
        expect![[r#"
            error: post P3 has no `depth` (depth of the post, along y)
              ┌─ JOBS/creek-porch/posts.csv:4:1 (row 4)
              │
            4 │ P3,16,0,foot 6,rim beam,5.5,,8 ft,Southern Pine,No.1,8,1.15,1.62,2.10,-1.98,0.31,0,14,14,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: put it in the column `depth [in]`; expected a length
              = hint: or give a nominal size, such as 8x8, in a column nominal

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_roof_without_its_beams() {
    wrong_in(
        "orchard-pergola",
        |job| {
            job.edit("job.toml", "beam_y_depth = \"7 1/2 in\"\n", "");
            job.edit("job.toml", "overhang_x = \"1 ft 6 in\"\n", "");
            job.edit("job.toml", "enclosure = \"open\"\n", "");
        },
        expect![[r#"
            error: `job.toml` has no `overhang_x` (roof beyond the outer posts, along x)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `overhang_x = "… ft"` or `overhang_x = "… in"` under `[roof]`; expected a length

            error: `job.toml` has no `beam_y_depth` (depth of the beams along y; 0 where there are none)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `beam_y_depth = "… in"` under `[roof]`; expected a length

            error: `job.toml` has no `enclosure` (walls under the roof)
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `enclosure` under `[roof]`; expected `open`, `partly enclosed` or `enclosed`

            3 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_sheet_that_nothing_uses() {
    wrong_own(
        "sheet finnish\ntitle mine\nneeds\n  b length from post-size \"x\"\nlet a = 2 * b  \"twice\"\n",
        expect![[r#"
            error: nothing that is used for a post uses the sheet `finnish`
              ┌─ JOBS/creek-porch/templates/sheets/own/own.sheet:1:1
              │
            1 │ sheet finnish
              │ ^^^^^^^^^^^^^
              │
              = hint: did you mean the sheet `finish`? the built-in one is `templates/sheets/base/finish.sheet`
              = hint: a sheet is used that says `joins post` at its head, or `stands as PLACE when COLUMN is NAME`, or is at the path of a built-in one that is used for a post, or is named by `use` in another sheet of the job

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_table_that_no_sheet_reads() {
    let job = Job::copy("creek-porch");
    job.write("templates/tables/load-durations.csv", "# title: ours\ncase,C_D,source\nS,1.0,the engineer\n");
    expect![[r#"
        error: nothing that is used for a post reads the table `load-durations`
          ┌─ JOBS/creek-porch/templates/tables/load-durations.csv:1:1
          │
        1 │ # title: ours
          │ ^^^^^^^^^^^^^
          │
          = hint: did you mean the table `load-duration`? the built-in one is `templates/tables/load-duration.csv`
          = hint: a table adds rows to the built-in one of its name, or is read by `take … from NAME[…]` in a sheet of the job

        1 thing to fix; nothing was written
    "#]].assert_eq(&job.diagnostic());
}

#[test]
fn files_that_are_no_sheet_and_no_table() {
    let job = Job::copy("creek-porch");
    job.write("templates/package/cover.typ", "#let cover(package) = []");
    job.write("templates/sheet/own/own.sheet", "sheet own\n");
    job.write("templates/sheets/own/finish.sheet.txt", "sheet own\n");
    job.write("templates/tables/2018/rebar.csv", "# title: ours\n");
    job.write("templates/tables/.rebar.csv.swp", "");
    expect![[r#"
        error: a job cannot change how its pages look: `templates/package/cover.typ` is not read
         = hint: the pages of a package are built in, but for the title block, which is `templates/title-block.typ`; remove this folder
         = hint: sheets of a job are in `templates/sheets` and end in `.sheet`; tables of a job are in `templates/tables` and end in `.csv`

        error: `templates/sheet/own/own.sheet` is neither a sheet nor a table that is read
         = hint: did you mean `templates/sheets/own/own.sheet`?
         = hint: sheets of a job are in `templates/sheets` and end in `.sheet`

        error: `templates/sheets/own/finish.sheet.txt` is neither a sheet nor a table that is read
         = hint: sheets of a job are in `templates/sheets` and end in `.sheet`; tables of a job are in `templates/tables` and end in `.csv`; anything else belongs outside `templates`

        error: `templates/tables/2018/rebar.csv` is neither a sheet nor a table that is read
         = hint: tables of a job are in `templates/tables` and end in `.csv`

        4 things to fix; nothing was written
    "#]].assert_eq(&job.diagnostic());
}

#[test]
fn a_folder_of_templates_under_another_name() {
    let job = Job::copy("creek-porch");
    job.write("Template/tables/rebar.csv", "# title: ours\n");
    expect![[r#"
        error: the folder `Template` of the job is not read
         = hint: a job's own sheets and tables are in a folder `templates`, in lowercase

        1 thing to fix; nothing was written
    "#]]
    .assert_eq(&job.diagnostic());
}

#[test]
fn wind_on_the_posts_without_a_wind_case() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("posts.csv", "P_W [kip],H_x_W [kip],H_y_W [kip]", "P_L [kip],H_x_L [kip],H_y_L [kip]");
            job.edit("job.toml", "L = \"no floor above\"", "W = \"in a hall\"");
        },
        expect![[r#"
            error: the wind on the post, `w_x`, acts in wind cases, and no wind case is given
              ┌─ JOBS/creek-porch/posts.csv:2:86 (cell R2)
              │
            2 │ P1,0,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,0.61,0.85,1.10,-1.05,0.18,0,14,14,demo
              │                                                                                      ^^
              │
              = hint: give the reactions of the wind cases: `P_W1 [lbf]`, `H_x_W1 [lbf]`, `H_y_W1 [lbf]`

            error: the wind on the post, `w_y`, acts in wind cases, and no wind case is given
              ┌─ JOBS/creek-porch/posts.csv:2:89 (cell S2)
              │
            2 │ P1,0,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,0.61,0.85,1.10,-1.05,0.18,0,14,14,demo
              │                                                                                         ^^
              │
              = hint: give the reactions of the wind cases: `P_W1 [lbf]`, `H_x_W1 [lbf]`, `H_y_W1 [lbf]`

            2 things to fix; nothing was written
        "#]],
    );
}

/// What a sheet calls `a` is `brace_drop` to the framer.
#[test]
fn brace_foot_at_the_beam() {
    wrong_job(
        |job| {
            job.edit("job.toml", "brace_drop = \"3 ft\"", "brace_drop = \"0 ft\"");
        },
        expect![[r#"
            error: knee braces meet the post below the beam: give `brace_drop` under [bracing] in job.toml
               ┌─ JOBS/orchard-pergola/job.toml:89:14
               │
            89 │ brace_drop = "0 ft"
               │              ^^^^^^
               │
               = hint: `drop` of the sheet `post-loads` has no value
               = hint: for post A1, from `brace_drop` 0 ft (job.toml), `brace_x` knee braces (job.toml), `brace_y` knee braces (job.toml)
               = hint: the rule is in templates/sheets/loads/post-loads.sheet:118:5

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn no_slope() {
    wrong_job(
        |job| {
            job.edit("job.toml", "slope = \"0 deg\"\n", "");
        },
        expect![[r#"
            error: `job.toml` has no `slope`
               ┌─ JOBS/orchard-pergola/job.toml:59:1
               │
            59 │ [roof]
               │ ^^^^^^
               │
               = hint: write `slope = "… deg"` under `[roof]`; expected an angle

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn acceleration_below_zero() {
    wrong_in(
        "cart-barn",
        |job| {
            job.edit("job.toml", "S_DS = 0.52", "S_DS = -0.52");
        },
        expect![[r#"
            error: `S_DS` (design spectral acceleration, short period) is −0.52; the sheet `seismic-site` accepts at least 0
               ┌─ JOBS/cart-barn/job.toml:62:8
               │
            62 │ S_DS = -0.52
               │        ^^^^^
               │
               = hint: for post A1

            1 thing to fix; nothing was written
        "#]],
    );
}

/// One run says what is wrong with each file and what they lack.
#[test]
fn faults_of_all_layers() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("job.toml", "service = \"dry\"", "service = \"damp\"");
            job.edit("job.toml", "weather = \"covered\"\n", "");
            job.edit("posts.csv", "height", "hieght");
            job.edit("posts.csv", "P_S [kip]", "P_S");
            job.set("posts.csv", "P2", "base", "foot 7");
            job.set("posts.csv", "P3", "width", "");
            job.edit("bases.csv", "seat_min [in]", "my note");
        },
        expect![[r#"
            error: nothing reads a column `hieght`
              ┌─ JOBS/creek-porch/posts.csv:1:58 (cell H1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],hieght,species,grade,fasteners,P_D [kip],P_Lr [kip],P_S,P_W [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │                                                          ^^^^^^
              │
              = hint: did you mean `height`? a column of your own begins with `my `

            error: post P1, P_S: found `1.10` without a unit; expected a force, such as `1.10 lbf` or `1.10 kip`
              ┌─ JOBS/creek-porch/posts.csv:2:68 (cell N2)
              │
            2 │ P1,0,0,foot 6,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,0.61,0.85,1.10,-1.05,0.18,0,14,14,demo
              │                                                                    ^^^^
              │
              = hint: a unit in the heading applies to the whole column: `P_S [lbf]` or `P_S [kip]`

            error: post P2: there is no base `foot 7` in `bases.csv`
              ┌─ JOBS/creek-porch/posts.csv:3:8 (cell D3)
              │
            3 │ P2,8,0,foot 7,rim beam,5.5,5.5,8 ft,Southern Pine,No.1,8,1.15,1.62,2.10,-1.98,0.31,0,14,14,demo
              │        ^^^^^^
              │
              = hint: did you mean `foot 4`?

            error: job.toml, service: found `damp`; expected `dry` or `wet`
               ┌─ JOBS/creek-porch/job.toml:38:11
               │
            38 │ service = "damp"
               │           ^^^^^^

            error: `job.toml` has no `weather` (whether weather reaches the base)
               ┌─ JOBS/creek-porch/job.toml:42:1
               │
            42 │ [site]
               │ ^^^^^^
               │
               = hint: write `weather` under `[site]`; expected `covered` or `exposed`

            error: `bases.csv` has no `seat_min` (smallest post width that the seat takes)
              ┌─ JOBS/creek-porch/bases.csv:1:1 (row 1)
              │
            1 │ name,kind,standoff [in],finish,seat_width [in],seat_depth [in],download [kip],uplift [kip],lateral_x [kip],lateral_y [kip],C_D_down,C_D_up,G_report,wet_factor,my note,seat_max [in],fasteners_report,fastener_height [in],anchors_report,anchor_d_report [in],report,report_date,report_expires,floor_screw,floor_screw_d [in],floor_screw_length [in],floor_screw_F_u [ksi],floor_screws_along,floor_screws_across,floor_spacing_along [in],floor_spacing_across [in],floor_plate [in],floor_plate_F_e [ksi],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: add a column `seat_min [in]`; expected a length
              = hint: the base `foot 6` needs it

            error: post P3 has no `width` (width of the post, along x)
              ┌─ JOBS/creek-porch/posts.csv:4:1 (row 4)
              │
            4 │ P3,16,0,foot 6,rim beam,,5.5,8 ft,Southern Pine,No.1,8,1.15,1.62,2.10,-1.98,0.31,0,14,14,demo
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: put it in the column `width [in]`; expected a length
              = hint: or give a nominal size, such as 8x8, in a column nominal

            7 things to fix; nothing was written
        "#]],
    );
}

/// A sheet that opens with a comment takes the place of the one of its name too.
#[test]
fn a_comment_before_a_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("tear-out.sheet");
    let text = std::fs::read_to_string(crate::support::root().join("templates/sheets/wood/tear-out.sheet"));
    std::fs::write(&path, format!("-- the shop's own\n\n{}", text.expect("a sheet"))).expect("a file");
    let output = socle(&["sheets", &path.display().to_string()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
}

// What nobody has answered.

#[test]
fn the_old_acceptance() {
    wrong_job(
        |job| {
            job.edit("job.toml", "snow_share = 0.5", "snow_share = 0.5\naccepted = \"yes\"");
        },
        expect![[r#"
            error: `accepted` of `[roof]` is no longer read
               ┌─ JOBS/orchard-pergola/job.toml:77:1
               │
            77 │ accepted = "yes"
               │ ^^^^^^^^
               │
               = hint: what an engineer decides goes under `[[decisions]]`, with the name and license of whoever decided it: remove this key, and run `socle check JOB --open`, which prints the blocks to fill in

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_load_that_nobody_speaks_of() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("job.toml", "R = \"the roof drains freely\"\n", "");
            job.edit("job.toml", "L = \"no floor above\"\n", "");
        },
        expect![[r#"
            error: the job does not say what the posts carry of L (live load) and R (rain load)
               ┌─ JOBS/creek-porch/job.toml:22:1
               │
            22 │ [loads]
               │ ^^^^^^^
               │
               = hint: give it for every post, in columns such as `P_S` or in `reactions.csv`, with zeros where a post has none
               = hint: or say in `job.toml` that there is none, and why; the cover prints it:
               = hint:     [loads.none]
               = hint:     L = "why there is no live load"
               = hint:     R = "why there is no rain load"

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_load_that_is_declared_absent_and_given() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("job.toml", "L = \"no floor above\"", "L = \"no floor above\"\nS = \"no snow\"");
        },
        expect![[r#"
            error: `[loads.none]` says that there is no S, and posts have it
               ┌─ JOBS/creek-porch/job.toml:27:5
               │
            27 │ S = "no snow"
               │     ^^^^^^^^^
               │
               = hint: leave one of them out

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn declarations_that_are_none() {
    wrong_in(
        "creek-porch",
        |job| {
            job.edit("job.toml", "L = \"no floor above\"", "L = \"\"\nD = \"it is light\"\nW1 = \"calm\"");
        },
        expect![[r#"
            error: `D` is not a kind of load that a job can be without
               ┌─ JOBS/creek-porch/job.toml:27:1
               │
            27 │ D = "it is light"
               │ ^
               │
               = hint: the kinds are L, Lr, S, R, W and E; there is always a dead load D, and zeros for a single case go with the reactions

            error: the job does not say why it has no L
               ┌─ JOBS/creek-porch/job.toml:26:1
               │
            26 │ L = ""
               │ ^
               │
               = hint: write the reason in quotes, such as `L = "no floor"`: the cover prints it, and an engineer accepts it

            error: `W1` is not a kind of load that a job can be without
               ┌─ JOBS/creek-porch/job.toml:28:1
               │
            28 │ W1 = "calm"
               │ ^^
               │
               = hint: the kinds are L, Lr, S, R, W and E; there is always a dead load D, and zeros for a single case go with the reactions

            3 things to fix; nothing was written
        "#]],
    );
}

#[test]
fn a_wind_that_says_nothing_of_one_direction() {
    wrong_in(
        "creek-porch",
        |job| {
            let text = job.read("posts.csv").replace(",H_y_W [kip]", "").replace(",0,14,14,demo", ",14,14,demo");
            let text = text.replace(",0,9,9,demo", ",9,9,demo");
            job.write("posts.csv", text);
        },
        expect![[r#"
            error: the case W has no column `H_y_W`
              ┌─ JOBS/creek-porch/posts.csv:1:1 (row 1)
              │
            1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,P_D [kip],P_Lr [kip],P_S [kip],P_W [kip],H_x_W [kip],w_x [lbf/ft],w_y [lbf/ft],source
              │ ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
              │
              = hint: add it, with zeros where the case has no such part: what is not given is not taken as zero

            1 thing to fix; nothing was written
        "#]],
    );
}

#[test]
fn answers_that_are_none() {
    wrong_job(
        |job| {
            let blocks = "\n[[decisions]]\nwhat = \"vertical wind on open slats\"\nby = \"E. Engineer\"\n\
                \n[[confirmed]]\ntable = \"rebar\"\nrow = \"No. 4\"\nvalues = \"d_b 0.5 in\"\ndate = \"last week\"\nwho = \"me\"\n";
            job.write("job.toml", job.read("job.toml") + blocks);
        },
        expect![[r#"
            error: found `last week`; expected a date such as `2026-11-20`
                ┌─ JOBS/orchard-pergola/job.toml:112:8
                │
            112 │ date = "last week"
                │        ^^^^^^^^^^^

            error: `who` is not a key of `[[confirmed]]`
                ┌─ JOBS/orchard-pergola/job.toml:113:1
                │
            113 │ who = "me"
                │ ^^^
                │
                = hint: known here: `table`, `row`, `values`, `publication`, `by` and `date`

            error: this block of `[[decisions]]` has no `value`
                ┌─ JOBS/orchard-pergola/job.toml:104:1
                │
            104 │ [[decisions]]
                │ ^^^^^^^^^^^^^
                │
                = hint: it names what was answered, so that it is open again when that changes
                = hint: `socle check JOB --open` prints the blocks of this job with both, ready to be filled in

            3 things to fix; nothing was written
        "#]],
    );
}
