/// Returns a number to so many decimals, as the numbers of a column are written, with a real minus
/// sign; what rounds to nothing has none.
pub fn fixed(value: f64, decimals: u8) -> String {
    let steps_to_one = 10_f64.powi(decimals.into());
    let rounded = (value * steps_to_one).round() / steps_to_one;
    let minus = if rounded < 0.0 { "\u{2212}" } else { "" };
    format!("{minus}{:.*}", decimals.into(), rounded.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_written_to_its_decimals() {
        assert_eq!(fixed(1.0, 2), "1.00");
        assert_eq!(fixed(-7.25, 1), "\u{2212}7.3");
        assert_eq!(fixed(-0.004, 2), "0.00");
        assert_eq!(fixed(-0.0, 1), "0.0");
    }
}
