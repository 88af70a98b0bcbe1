//! A drawing turned round for the left hand.

/// Signs that are each other's mirror image.
const PAIRS: [(char, char); 10] = [
    ('[', ']'),
    ('(', ')'),
    ('<', '>'),
    ('/', '\\'),
    ('◀', '▶'),
    ('←', '→'),
    ('╔', '╗'),
    ('╚', '╝'),
    ('┌', '┐'),
    ('└', '┘'),
];

/// The drawing in a mirror. Letters and digits stay as they are.
pub fn mirrored(drawing: &[&str]) -> Vec<String> {
    let wide = drawing.iter().map(|l| l.chars().count()).max().unwrap_or(0);
    let turn = |line: &&str| {
        let line = format!("{line:wide$}");
        let turned: String = line.chars().rev().map(turned).collect();
        turned.trim_end().to_string()
    };
    drawing.iter().map(turn).collect()
}

fn turned(sign: char) -> char {
    let pair = PAIRS.iter().find(|(a, b)| *a == sign || *b == sign);
    match pair {
        Some((a, b)) if *a == sign => *b,
        Some((a, _)) => *a,
        None => sign,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::all;

    #[test]
    fn a_stitch_in_a_mirror_goes_to_the_right() {
        let stitch = ["     ╔N╗", "◀[A]     [A]◆", "     [B]"];
        let wanted = ["     ╔N╗", "◆[A]     [A]▶", "     [B]"];
        assert_eq!(mirrored(&stitch), wanted);
    }

    #[test]
    fn twice_turned_is_as_it_was() {
        for word in all() {
            let once = mirrored(word.drawing);
            let once: Vec<&str> = once.iter().map(String::as_str).collect();
            let left = |lines: &[&str]| {
                let indent = |l: &&str| l.chars().take_while(|c| *c == ' ').count();
                lines.iter().map(indent).min().unwrap_or(0)
            };
            // Blanks at the left side of all lines are no part of a drawing.
            assert_eq!(left(word.drawing), 0, "{}", word.word);
            assert_eq!(mirrored(&once), word.drawing, "{}", word.word);
        }
    }

    #[test]
    fn a_drawing_is_small_and_holds_no_words() {
        for word in all() {
            let (name, drawing) = (word.word, word.drawing);
            assert_eq!(drawing.is_empty(), word.shows.is_empty(), "{name}");
            assert!(drawing.len() <= 5, "{name}");
            for line in drawing {
                assert!(line.chars().count() <= 34, "{name}");
                let chars: Vec<char> = line.chars().collect();
                let letters = chars
                    .windows(2)
                    .any(|w| w[0].is_alphanumeric() && w[1].is_alphanumeric());
                assert!(!letters, "{name}: a word cannot be turned round: {line}");
            }
        }
    }
}
