//! What a job must not be able to do: run without end, hand on a formula, write where nobody asked.

use crate::support::{Job, socle, stderr, stdout};

/// A title block that runs for hours.
const ENDLESS: &str = "#let title-block(firm, job, sheet) = {\n  for a in range(100000) { for b in range(100000) { let c = a * b } }\n}\n";

#[test]
fn a_title_block_that_does_not_end_is_stopped() {
    let job = Job::copy("creek-porch");
    job.write("templates/title-block.typ", ENDLESS);
    let output = job.folder().join("package.pdf");
    let ran = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), output.as_os_str()]);
    assert_eq!(ran.status.code(), Some(2), "{}", stderr(&ran));
    let said = stderr(&ran);
    assert!(said.contains("title-block.typ") && said.contains("is not done after"), "{said}");
    assert!(!output.exists() && stdout(&ran).is_empty());
}

/// Title blocks that would end the program itself: they take all memory at once, or all of the stack.
const BOTTOMLESS: [&str; 3] = [
    "[#(\"a\" * 100000000000)]",
    "grid(columns: 100000000000000000)",
    "{ let s = (); for i in range(9999) { for j in range(90) { s = (s,) } }; [A] }",
];

#[test]
fn a_title_block_that_ends_the_typesetter_does_not_end_the_program() {
    for body in BOTTOMLESS {
        let job = Job::copy("creek-porch");
        job.write("templates/title-block.typ", format!("#let title-block(firm, job, sheet) = {body}\n"));
        let output = job.folder().join("package.pdf");
        let ran = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), output.as_os_str()]);
        let said = stderr(&ran);
        assert_eq!(ran.status.code(), Some(2), "{body}: {said}");
        assert!(said.contains("title-block.typ` runs out of memory or of stack"), "{body}: {said}");
        assert!(
            said.ends_with("1 thing to fix; nothing was written\n") && !said.contains("backtrace"),
            "{body}: {said}"
        );
        assert!(!output.exists() && stdout(&ran).is_empty());
    }
}

#[test]
fn a_package_goes_to_standard_output() {
    let job = Job::copy("creek-porch");
    let ran = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), "-".as_ref()]);
    assert_eq!(ran.status.code(), Some(0), "{}", stderr(&ran));
    assert!(ran.stdout.starts_with(b"%PDF-") && ran.stdout.trim_ascii_end().ends_with(b"%%EOF"));
    assert!(stderr(&ran).contains("- written, "), "{}", stderr(&ran));
    assert!(!std::path::Path::new("-").exists());
}

/// Neither a message nor a result that cannot be written ends in anything but an exit status that is documented.
#[cfg(target_os = "linux")]
#[test]
fn where_nobody_hears_it_the_program_ends_as_ever() {
    let job = Job::copy("creek-porch");
    let (folder, package) = (job.path().display().to_string(), job.folder().join("package.pdf"));
    let package = package.display();
    for (args, status) in [
        (format!("check {folder}/nowhere 2>/dev/full"), 2),
        (format!("check {folder} --bogus 2>/dev/full"), 2),
        (format!("check {folder} 2>&-"), 0),
        (format!("check {folder} >/dev/full"), 3),
        (format!("check {folder} --json >/dev/full"), 3),
        (format!("check {folder} >&-"), 0),
        (format!("package {folder} -o {package} 2>/dev/full"), 0),
        (format!("package {folder} -o - 2>/dev/full"), 0),
        (format!("package {folder} -o - >/dev/full"), 3),
        (format!("reopen {package} >/dev/full 2>/dev/full"), 3),
        ("validate frost >/dev/full".into(), 3),
        ("sheets >/dev/full".into(), 3),
    ] {
        let ran = std::process::Command::new("sh")
            .args(["-c", &format!("{} {args}", env!("CARGO_BIN_EXE_socle"))])
            .output()
            .expect("a shell");
        assert_eq!(ran.status.code(), Some(status), "{args}: {}", stderr(&ran));
    }
}

#[test]
fn what_a_job_is_read_from_is_never_written_over() {
    let job = Job::copy("creek-porch");
    let (folder, before) = (job.path(), job.read("posts.csv"));
    let posts = folder.join("posts.csv");
    for args in [["package", "--replace", "-o"].as_slice(), ["check", "--xlsx"].as_slice()] {
        let mut args: Vec<&std::ffi::OsStr> = args.iter().map(AsRef::as_ref).collect();
        args.insert(1, folder.as_os_str());
        args.push(posts.as_os_str());
        let ran = socle(&args);
        assert_eq!(ran.status.code(), Some(2), "{}", stderr(&ran));
        assert!(stderr(&ran).contains("`posts.csv` is read for this job"), "{}", stderr(&ran));
        assert_eq!(job.read("posts.csv"), before);
    }
}

#[test]
fn characters_are_counted_and_not_bytes() {
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P1", "source", &"Ω".repeat(1500));
    let ran = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_eq!(ran.status.code(), Some(0), "{}", stderr(&ran));
}

#[test]
fn csv_hands_on_no_formula() {
    let job = Job::copy("creek-porch");
    for (mark, begins) in [("P2", "@SUM(1)"), ("P3", "+1+cmd")] {
        job.edit("posts.csv", &format!("{mark},"), &format!("{begins},"));
    }
    let ran = socle(&["check".as_ref(), job.path().as_os_str(), "--csv".as_ref()]);
    assert_eq!(ran.status.code(), Some(0), "{}", stderr(&ran));
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(ran.stdout.as_slice());
    let mut seen = 0;
    for cell in reader.records().flat_map(|row| row.expect("a row").iter().map(String::from).collect::<Vec<_>>()) {
        let formula = cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err() && cell != "-";
        assert!(!formula, "{cell}");
        seen += usize::from(cell.starts_with("'@SUM"));
    }
    assert!(seen > 0);
}

#[test]
fn a_folder_that_is_a_link_is_a_job() {
    let job = Job::copy("creek-porch");
    let link = job.folder().join("linked");
    #[cfg(unix)]
    std::os::unix::fs::symlink(job.path(), &link).expect("a link");
    let ran = socle(&["check".as_ref(), link.as_os_str()]);
    assert_eq!(ran.status.code(), Some(0), "{}", stderr(&ran));
}

#[test]
fn characters_that_print_are_taken() {
    use socle::legible::faults;
    use socle::source::Source;
    for text in
        ["Größe 7 ½ in, Łódź, Ωδ, Столб, ‘quoted’, 3 × 4 ≤ 12 °, “x” – y — z … № ™\ttab\r\n", "zero\u{200b}width\u{ad}"]
    {
        let wrong = faults(&Source::new("posts.csv", text));
        assert!(wrong.is_empty(), "{}", wrong[0].message);
    }
    for text in ["\u{1b}[2J", "a\u{202e}b", "木", "🪵", "a\u{0}", "\u{e000}", "\u{9b}31m"] {
        assert_eq!(faults(&Source::new("posts.csv", text)).len(), 1, "{}", text.escape_debug());
    }
}
