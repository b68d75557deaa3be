//! When two names are one, and which known name a wrong one is near to. People
//! type columns, keys and marks in capitals or small letters, with blanks,
//! hyphens or underscores, and paste characters that nobody sees.

/// A text without the characters that nobody sees, its blanks plain ones.
pub fn visible(text: &str) -> String {
    let seen = text.chars().filter(|c| !is_invisible(*c));
    seen.map(|c| if c.is_whitespace() && c != '\n' { ' ' } else { c }).collect::<String>().trim().into()
}

/// Soft hyphens, marks of width zero or of direction, byte-order marks.
pub fn is_invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}'
        | '\u{fe0f}' | '\u{feff}')
}

/// Blanks, underscores, and hyphens and dashes of any length.
fn is_joint(c: char) -> bool {
    c.is_whitespace() || matches!(c, '-' | '_' | '−' | '\u{2010}'..='\u{2015}')
}

/// The words of a name, joined by underscores.
pub fn joined(name: &str) -> String {
    visible(name).split(is_joint).filter(|word| !word.is_empty()).collect::<Vec<_>>().join("_")
}

/// The words of a name in small letters.
pub fn words(name: &str) -> Vec<String> {
    joined(name).to_lowercase().split('_').filter(|word| !word.is_empty()).map(String::from).collect()
}

/// A mark or the name of a row as others may refer to it: `Foot-6` is `foot 6`,
/// but `1-1` is not `11`.
pub fn plain(name: &str) -> String {
    words(name).join(" ")
}

/// Names of columns and keys are the same whatever their capitals, and whether
/// words are joined by blanks, hyphens, underscores or by nothing. A minus before
/// one is no hyphen.
pub fn same_name(a: &str, b: &str) -> bool {
    fn letters(name: &str) -> impl Iterator<Item = char> {
        name.chars().filter(|c| !is_joint(*c) && !is_invisible(*c)).flat_map(char::to_lowercase)
    }
    let is_turned = |name: &str| {
        let first = name.chars().find(|c| !c.is_whitespace() && !is_invisible(*c));
        first.is_some_and(|first| MINUS.contains(&first))
    };
    letters(a).eq(letters(b)) && is_turned(a) == is_turned(b)
}

const MINUS: [char; 6] = ['-', '−', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}'];

/// What stands behind a minus, if a name begins with one.
pub fn turned(name: &str) -> Option<String> {
    visible(name).strip_prefix(MINUS).map(|rest| rest.trim_start().into())
}

/// The known names that a name can stand for: one that is exactly so, else those
/// of the same words, else those that are the same once joined.
pub fn meant<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let mut same: Vec<&str> = known.into_iter().filter(|known| same_name(known, name)).collect();
    same.dedup();
    let exact = same.iter().copied().filter(|known| *known == name).collect::<Vec<_>>();
    let words_alike = same.iter().copied().filter(|known| words(known) == words(name)).collect::<Vec<_>>();
    [exact, words_alike, same].into_iter().find(|names| !names.is_empty()).unwrap_or_default()
}

/// The known name nearest to a wrong one, if one is near enough to be meant.
pub fn nearest<'a>(wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let near = known.into_iter().filter_map(|name| Some((distance(wrong, name)?, name)));
    near.min_by_key(|(distance, _)| *distance).map(|(_, name)| name)
}

/// How many letters a slip has changed; none if it can be no slip. Names of as
/// many words are held to each other word by word: `knife plate` is no slip of
/// `side plate`. More than one letter is wrong only behind the first one.
fn distance(wrong: &str, name: &str) -> Option<usize> {
    if same_name(wrong, name) {
        return Some(0);
    }
    let (ours, theirs) = (words(wrong), words(name));
    let (a, b) = (ours.concat(), theirs.concat());
    let length = a.chars().count().min(b.chars().count());
    let near = |a: &str, b: &str| {
        let changed = strsim::damerau_levenshtein(a, b);
        let likely = changed <= 1 || a.chars().next() == b.chars().next();
        (likely && changed <= 1 + a.chars().count().max(b.chars().count()) / 4).then_some(changed)
    };
    // Of two letters, one that is wrong is half of the name.
    if a.chars().count().max(b.chars().count()) <= 2 {
        return None;
    }
    let changed = match ours.len() == theirs.len() {
        true => ours.iter().zip(&theirs).map(|(a, b)| near(a, b)).sum::<Option<usize>>()?,
        false => near(&a, &b)?,
    };
    (changed <= 1 + length / 4).then_some(changed)
}

/// The known names with most words in common with a wrong one, at most so many.
pub fn in_common<'a>(wrong: &str, known: impl IntoIterator<Item = &'a str>, many: usize) -> Vec<&'a str> {
    let ours = words(wrong);
    let shared = |name: &str| words(name).iter().filter(|word| word.len() > 2 && ours.contains(word)).count();
    let counted: Vec<(usize, &str)> = known.into_iter().map(|name| (shared(name), name)).collect();
    let most = counted.iter().map(|(count, _)| *count).max().unwrap_or(0);
    let mut best: Vec<&str> =
        counted.into_iter().filter(|(count, _)| *count == most && most > 0).map(|(_, name)| name).collect();
    // Of these, the ones with the fewest words besides.
    best.sort_by_key(|name| words(name).len());
    best.truncate(many);
    best
}

/// A text as the name of a file, or a part of one, that every system takes: its words with hyphens between them, and none of
/// the names that Windows keeps for devices.
pub fn file_name(text: &str) -> String {
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let name = words.join("-");
    let small = name.to_lowercase();
    let port = |kind: &str| {
        small.strip_prefix(kind).is_some_and(|no| no.chars().count() == 1 && no.ends_with(char::is_numeric))
    };
    let taken = ["con", "prn", "aux", "nul"].contains(&small.as_str()) || port("com") || port("lpt");
    if taken || name.is_empty() { format!("{name}_") } else { name }
}
