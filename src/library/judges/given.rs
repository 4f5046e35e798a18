//! What a routine was given at the meet, as a person writes it.

use crate::{
    library::consent::code::{Code, NotACode},
    marks::JudgeScore,
    units::{ParsePointsError, Points},
};

/// Reads a score that was given.
pub fn given(text: &str) -> Result<Points, String> {
    let points: Points = text.parse().map_err(|error: ParsePointsError| error.to_string())?;
    if points < Points::ZERO { Err("a score is not negative".to_owned()) } else { Ok(points) }
}

/// Reads what one judge gave: `J-2=9.15`.
pub fn given_by(text: &str) -> Result<JudgeScore, String> {
    let (judge, score) = text
        .split_once('=')
        .filter(|(judge, _)| !judge.trim().is_empty())
        .ok_or("write the judge's code and the score, for example J-2=9.15")?;
    let judge: Code = judge.trim().parse().map_err(|error: NotACode| error.to_string())?;
    Ok(JudgeScore { judge: judge.to_string(), score: given(score.trim())? })
}
