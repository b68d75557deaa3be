//! Marks of posts in few words.

/// Marks as a person writes them: `A1 to A40, B2`, those that follow one another by
/// number as one; of more than `most` the first, and how many posts more.
pub fn some_marks(marks: &[String], most: usize) -> String {
    let runs = runs(marks);
    let (shown, more) = if runs.len() <= most { (runs.len(), 0) } else { (most.saturating_sub(2).max(1), 1) };
    let words = runs[..shown].iter().map(|run| match run {
        [one] => one.clone(),
        run => format!("{} to {}", run[0], run[run.len() - 1]),
    });
    let words = words.collect::<Vec<_>>().join(", ");
    match more {
        0 => words,
        _ => format!("{words} and {} more", runs[shown..].iter().map(|run| run.len()).sum::<usize>()),
    }
}

/// `post A1`, `posts A1, A3`.
pub fn some_posts(marks: &[String], most: usize) -> String {
    format!("{} {}", if marks.len() == 1 { "post" } else { "posts" }, some_marks(marks, most))
}

/// Runs of at least three marks that follow one another by number; others one by one.
fn runs(marks: &[String]) -> Vec<&[String]> {
    let mut runs = Vec::new();
    let mut at = 0;
    while at < marks.len() {
        let follow = marks[at..].windows(2).take_while(|pair| next(&pair[0]).as_ref() == Some(&pair[1])).count();
        let long = if follow < 2 { 1 } else { follow + 1 };
        runs.push(&marks[at..at + long]);
        at += long;
    }
    runs
}

/// `A10` after `A9`, `A10` after `A09`.
fn next(mark: &str) -> Option<String> {
    let name = mark.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &mark[name.len()..];
    let number: u64 = digits.parse().ok()?;
    Some(format!("{name}{:0wide$}", number.checked_add(1)?, wide = digits.len()))
}
