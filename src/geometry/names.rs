//! Short names of faces and seams in the picture.
//!
//! A face of a ring is `4.2` (tetrahedron 4, face 2), and `Face 3` is `3`. A
//! name chosen by the maker is shown by its initials; if two short names would
//! be the same, faces have numbers instead. Seams have small letters in the
//! order in which they are closed: `a` is the first, and after `z` come `aa`,
//! `ab`.

use std::collections::HashMap;

/// The letters of a seam, counted from 0.
pub fn seam(nth: usize) -> String {
    let letter = char::from(b'a' + (nth % 26) as u8);
    match nth / 26 {
        0 => letter.to_string(),
        more => seam(more - 1) + &letter.to_string(),
    }
}

/// Short names of faces, all different.
pub fn short(names: &[&str]) -> Vec<String> {
    let first: Vec<String> = names.iter().map(|name| shortened(name)).collect();
    let mut seen: HashMap<&str, usize> = HashMap::new();
    for name in &first {
        *seen.entry(name).or_default() += 1;
    }
    match seen.values().all(|times| *times == 1) {
        true => first,
        false => (1..=names.len()).map(|n| n.to_string()).collect(),
    }
}

fn shortened(name: &str) -> String {
    let counted: Vec<&str> = (name.split_whitespace())
        .map(|word| word.trim_end_matches(','))
        .filter(|word| {
            let is_number = word.chars().all(|c| c.is_ascii_digit());
            is_number || (word.len() == 1 && word.starts_with(|c: char| c.is_ascii_uppercase()))
        })
        .collect();
    match counted.is_empty() {
        false => counted.join("."),
        true => {
            let initials = name.split_whitespace().filter_map(|w| w.chars().next());
            initials.flat_map(char::to_uppercase).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seam_letters_go_on_past_the_alphabet() {
        let letters = [0, 1, 25, 26, 27, 51, 52, 701, 702].map(seam);
        assert_eq!(
            letters,
            ["a", "b", "z", "aa", "ab", "az", "ba", "zz", "aaa"]
        );
    }

    #[test]
    fn short_names_of_faces_are_all_different() {
        assert_eq!(short(&["Face 1", "Face 12"]), ["1", "12"]);
        assert_eq!(short(&["Panel 1", "Face A"]), ["1", "A"]);
        let ring = ["Tetrahedron 1, face 1", "Tetrahedron 12, face 4"];
        assert_eq!(short(&ring), ["1.1", "12.4"]);
        assert_eq!(short(&["near sail", "far sail"]), ["NS", "FS"]);
        // Two short names would be the same, so faces are numbered.
        assert_eq!(short(&["north", "near"]), ["1", "2"]);
        assert_eq!(short(&["Face 1", "Panel 1"]), ["1", "2"]);
    }
}
