//! Angles as a drawing prints them, and what is too thin for it.

/// `14.6°`
pub fn degrees(angle: f64) -> String {
    let text = format!("{angle:.1}");
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

/// Nothing is drawn or dimensioned that is thinner than this.
pub(super) const HAIR: f64 = 1.0 / 64.0;
