//! Times and counts as the page shows them.

/// Minutes and seconds, as `4:12`; rounded to the nearest second.
#[must_use]
pub fn clock(seconds: f64) -> String {
    let whole = rounded(seconds);
    format!("{}:{:02}", whole / 60, whole % 60)
}

/// Seconds to a tenth, as `7.5 s`.
#[must_use]
pub fn seconds(value: f64) -> String {
    if value.is_finite() {
        format!("{value:.1} s")
    } else {
        "? s".to_owned()
    }
}

/// A level of air to hundredths, as `0.32`.
#[must_use]
pub fn air(level: f64) -> String {
    let text = format!("{level:.2}");
    if text == "-0.00" {
        "0.00".to_owned()
    } else {
        text
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=359,999"
)]
fn rounded(seconds: f64) -> u32 {
    if seconds.is_finite() {
        seconds.round().clamp(0.0, 359_999.0) as u32
    } else {
        0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short() {
        assert_eq!(clock(251.6), "4:12");
        assert_eq!(clock(59.5), "1:00");
        assert_eq!(clock(f64::NAN), "0:00");
        assert_eq!(seconds(7.5), "7.5 s");
        assert_eq!(air(-0.001), "0.00");
        assert_eq!(air(-0.3), "-0.30");
    }
}
