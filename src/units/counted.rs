/// Returns a count with its word: `1 look`, `3 looks`.
pub fn counted(count: usize, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_one_has_no_s() {
        assert_eq!([0, 1, 2].map(|count| counted(count, "look")), ["0 looks", "1 look", "2 looks"]);
    }
}
