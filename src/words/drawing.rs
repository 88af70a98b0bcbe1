//! Mirrors a drawing for the left hand.

/// Characters that are each other's mirror image.
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

/// The mirror image of a drawing. Letters and digits stay as they are.
pub fn mirrored(drawing: &[&str]) -> Vec<String> {
    let width = drawing.iter().map(|l| l.chars().count()).max().unwrap_or(0);
    let mirror = |line: &&str| {
        let line = format!("{line:width$}");
        let mirrored: String = line.chars().rev().map(mirrored_char).collect();
        mirrored.trim_end().to_string()
    };
    drawing.iter().map(mirror).collect()
}

fn mirrored_char(sign: char) -> char {
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
    fn a_mirrored_stitch_goes_to_the_right() {
        let stitch = ["     ╔N╗", "◀[A]     [A]◆", "     [B]"];
        let wanted = ["     ╔N╗", "◆[A]     [A]▶", "     [B]"];
        assert_eq!(mirrored(&stitch), wanted);
    }

    #[test]
    fn mirroring_twice_gives_the_same_drawing() {
        for word in all() {
            let once = mirrored(word.drawing);
            let once: Vec<&str> = once.iter().map(String::as_str).collect();
            let indent_of = |lines: &[&str]| {
                let blanks = |l: &&str| l.chars().take_while(|c| *c == ' ').count();
                lines.iter().map(blanks).min().unwrap_or(0)
            };
            // A drawing does not begin with a blank column.
            assert_eq!(indent_of(word.drawing), 0, "{}", word.word);
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
                let has_word = chars
                    .windows(2)
                    .any(|w| w[0].is_alphanumeric() && w[1].is_alphanumeric());
                assert!(!has_word, "{name}: a word cannot be mirrored:  {line}");
            }
        }
    }
}
