//! How lines of `tests/wrong` are split.

/// Words with blanks between them; quotes and backticks keep blanks in one.
pub fn words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let (mut word, mut quote) = (None::<String>, None);
    for c in text.chars() {
        match quote {
            Some(open) if c == open => quote = None,
            None if c == '"' || c == '`' => {
                quote = Some(c);
                word.get_or_insert_default();
            }
            None if c == ' ' => words.extend(word.take()),
            _ => word.get_or_insert_default().push(c),
        }
    }
    words.extend(word);
    words
}
