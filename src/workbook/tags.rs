//! The tags of an XML text, for what the reader of values does not tell: hidden
//! rows, merged cells, how far a repeated cell goes.

/// An opening tag, a closing one (`/name`), or one that is both.
pub struct Tag<'a> {
    pub name: &'a str,
    attributes: &'a str,
}

/// All tags of a text, in their order.
pub fn tags(xml: &str) -> impl Iterator<Item = Tag<'_>> {
    let mut rest = xml;
    std::iter::from_fn(move || {
        rest = &rest[rest.find('<')? + 1..];
        let tag = &rest[..end(rest)];
        rest = &rest[tag.len()..];
        let name = tag.split([' ', '\t', '\r', '\n']).next().unwrap_or_default();
        let attributes = &tag[name.len()..];
        Some(Tag { name: if name.len() > 1 { name.trim_end_matches('/') } else { name }, attributes })
    })
}

/// Where a tag ends: a sign in quotes is part of a value.
fn end(tag: &str) -> usize {
    let mut quote = None;
    for (at, byte) in tag.bytes().enumerate() {
        match (byte, quote) {
            (b'>', None) => return at,
            (b'"' | b'\'', None) => quote = Some(byte),
            (byte, Some(open)) if byte == open => quote = None,
            _ => {}
        }
    }
    tag.len()
}

impl Tag<'_> {
    /// Without the prefix of its namespace; of a closing tag nothing.
    pub fn local(&self) -> &str {
        if self.name.starts_with('/') { "" } else { self.name.rsplit(':').next().unwrap_or(self.name) }
    }

    /// The value of an attribute; its name is given without a prefix.
    pub fn get(&self, name: &str) -> Option<String> {
        let mut rest = self.attributes;
        loop {
            let (key, after) = rest.split_once('=')?;
            let after = after.trim_start();
            let quote = after.chars().next().filter(|quote| ['"', '\''].contains(quote))?;
            let (value, after) = after[1..].split_once(quote)?;
            if key.trim().rsplit(':').next() == Some(name) {
                return Some(plain(value));
            }
            rest = after;
        }
    }

    pub fn number(&self, name: &str) -> Option<u32> {
        self.get(name)?.trim().parse().ok()
    }

    pub fn is(&self, name: &str) -> bool {
        self.get(name).is_some_and(|value| value == "1" || value == "true")
    }
}

fn plain(value: &str) -> String {
    let named = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&amp;", "&")];
    named.iter().fold(value.to_string(), |text, (entity, sign)| text.replace(entity, sign))
}
