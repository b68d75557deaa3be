//! What was typed, read once more: numbers with fractions, feet and inches, threads and pitches.

use crate::walk::{Big, Precise, decimal, factor};

/// A value, and what the program read it as.
pub fn read(text: &str, heading: &str, double: f64) -> Precise {
    Precise::near(base(text, heading), double)
}

fn base(text: &str, heading: &str) -> Big {
    if let Some((rise, run)) = text.split_once(':') {
        return (decimal(rise) / decimal(run)).atan();
    }
    if let Some(diameter) = text.strip_prefix('M') {
        return decimal(diameter) * factor("mm");
    }
    let text = text.replace(',', "");
    let is_number = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit() || c == '-');
    let mut words = text.split_whitespace().peekable();
    let mut sum = decimal("0");
    while words.peek().is_some() {
        let mut number = decimal("0");
        while let Some(word) = words.next_if(is_number) {
            number += match word.split_once('/') {
                Some((part, of)) => decimal(part) / decimal(of),
                None => decimal(word),
            };
        }
        let mut unit = Vec::new();
        while let Some(word) = words.next_if(|word| !is_number(word)) {
            unit.push(word);
        }
        sum += number * factor(if unit.is_empty() { heading.to_string() } else { unit.join(" ") }.as_str());
    }
    sum
}
