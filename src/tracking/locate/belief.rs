//! How likely an answer is, and the expected information of a question.
//!
//! A maker who sees v says v, or by mistake another value: most often one bead
//! more or less, else any value. With e(v) the error rate and M the number of
//! possible answers,
//!
//! ```text
//! P(v | v) = 1 − e     P(v ± 1 | v) = 0.35·e each     P(other | v) = 0.3·e / M
//! ```
//!
//! The error rates are common practice, no source.

use super::ask::Ask;

/// The part of counting errors that is one too many; the same part is one too
/// few.
const NEAR: f64 = 0.35;

/// The probability that an answer is wrong.
fn error(ask: Ask, value: u32) -> f64 {
    match (ask.is_counted(), value) {
        (false, _) => 0.02,
        (true, 0..=6) => 0.01,
        (true, 7..=20) => 0.03,
        (true, _) => 0.06,
    }
}

/// The probability that a maker who sees `value` says `said`, of answers 0 to
/// `most`.
pub(super) fn likelihood(ask: Ask, value: u32, said: u32, most: u32) -> f64 {
    let e = error(ask, value);
    let near = match ask.is_counted() {
        true => NEAR,
        false => 0.0,
    };
    // What would be outside the answers is spread over all answers.
    let neighbours = [value.checked_sub(1), Some(value + 1).filter(|&v| v <= most)];
    let neighbours = neighbours.into_iter().flatten().count() as f64;
    let anywhere = e * (1.0 - near * neighbours) / f64::from(most + 1).max(1.0);
    let slip = match said.abs_diff(value) {
        0 => 1.0 - e,
        1 => e * near,
        _ => 0.0,
    };
    slip + anywhere
}

/// The expected information of a question, in bits, if the answers 0 to n have
/// these probabilities.
pub(super) fn information(ask: Ask, chances: &[f64]) -> f64 {
    let most = chances.len() as u32 - 1;
    let mut said = vec![0.0; chances.len()];
    let (mut anywhere, mut noise) = (0.0, 0.0);
    for (v, &p) in chances.iter().enumerate().filter(|(_, p)| **p > 0.0) {
        let v32 = v as u32;
        let far = likelihood(ask, v32, u32::MAX, most);
        anywhere += p * far;
        let near = [v.checked_sub(1), (v + 1 < said.len()).then_some(v + 1)];
        let mut others = most as f64;
        said[v] += p * (likelihood(ask, v32, v32, most) - far);
        let mut entropy = bits(likelihood(ask, v32, v32, most));
        for w in near.into_iter().flatten() {
            let l = likelihood(ask, v32, w as u32, most);
            said[w] += p * (l - far);
            entropy += bits(l);
            others -= 1.0;
        }
        noise += p * (entropy + others * bits(far));
    }
    let answer: f64 = said.iter().map(|p| bits(p + anywhere)).sum();
    (answer - noise).max(0.0)
}

fn bits(p: f64) -> f64 {
    match p > 0.0 {
        true => -p * p.log2(),
        false => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_probabilities_of_answers_add_up_to_one() {
        for ask in [Ask::Edge, Ask::HalfDone] {
            for value in 0..=9 {
                let all: f64 = (0..=9).map(|said| likelihood(ask, value, said, 9)).sum();
                assert!((all - 1.0).abs() < 1e-9, "{ask:?} {value}: {all}");
            }
        }
    }

    /// Compared with the sum over all pairs of a value and an answer.
    #[test]
    fn the_information_is_the_same_as_by_the_plain_sum() {
        for ask in [Ask::Edge, Ask::HalfDone, Ask::InRound] {
            let chances = [0.1, 0.0, 0.3, 0.25, 0.05, 0.0, 0.0, 0.2, 0.1];
            let said = |a: u32| -> f64 {
                let each = chances.iter().enumerate();
                each.map(|(v, p)| p * likelihood(ask, v as u32, a, 8)).sum()
            };
            let mut plain = 0.0;
            for (v, p) in chances.iter().enumerate() {
                for a in 0..=8 {
                    let l = likelihood(ask, v as u32, a, 8);
                    plain += p * l * (l / said(a)).log2();
                }
            }
            assert!((information(ask, &chances) - plain).abs() < 1e-9);
        }
    }

    #[test]
    fn two_equal_values_give_about_one_bit_and_a_certainty_none() {
        assert!(information(Ask::Edge, &[0.5, 0.0, 0.0, 0.5]) > 0.9);
        assert!(information(Ask::Edge, &[0.0, 1.0, 0.0]) < 1e-9);
    }
}
