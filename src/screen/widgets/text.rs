//! Lines of text in an area.

use ratatui::buffer::Cell;
use ratatui::prelude::{Buffer, Line, Rect, Span, Style, Text};
use std::borrow::Cow;
use unicode_width::{UnicodeWidthChar as _, UnicodeWidthStr as _};

/// Part of an area: `count` rows from a row on, as far as there are any.
pub fn rows(area: Rect, from: u16, count: u16) -> Rect {
    let from = from.min(area.height);
    Rect {
        y: area.y + from,
        height: count.min(area.height - from),
        ..area
    }
}

/// Part of an area: `count` columns from a column on, as far as there are any.
pub fn columns(area: Rect, from: u16, count: u16) -> Rect {
    let from = from.min(area.width);
    Rect {
        x: area.x + from,
        width: count.min(area.width - from),
        ..area
    }
}

/// The last columns of an area.
pub fn last_columns(area: Rect, count: u16) -> Rect {
    columns(area, area.width.saturating_sub(count), count)
}

/// The area without this many columns on both sides.
pub fn inset(area: Rect, each: u16) -> Rect {
    let each = each.min(area.width / 2);
    columns(area, each, area.width - 2 * each)
}

/// Writes one line, cut at the area's edge.
pub fn line(area: Rect, buf: &mut Buffer, text: &str, style: Style) {
    if !area.is_empty() {
        let text = fit(text, usize::from(area.width));
        buf.set_stringn(area.x, area.y, text, usize::from(area.width), style);
    }
}

/// A text, or if it does not fit, its beginning and `...`, cut between words
/// where that leaves enough of it.
pub fn fit(text: &str, room: usize) -> String {
    if text.trim_end().width() <= room {
        return text.to_string();
    }
    let kept = room.saturating_sub(DOTS.len());
    let mut wide = 0;
    let fits = text.char_indices().take_while(|(_, c)| {
        wide += c.width().unwrap_or(0);
        wide <= kept
    });
    let end = fits.last().map_or(0, |(at, c)| at + c.len_utf8());
    let cut = match text[..end].rfind(' ') {
        Some(at) if !text[end..].starts_with(' ') && 2 * at > end => at,
        _ => end,
    };
    format!(
        "{}{}",
        text[..cut].trim_end_matches([' ', ',']),
        &DOTS[..DOTS.len().min(room)]
    )
}

/// A text, or if it does not fit, `...` and its end.
pub fn fit_end(text: &str, room: usize) -> String {
    if text.width() <= room {
        return text.to_string();
    }
    let mut end = text.chars();
    while end.as_str().width() + DOTS.len() > room && end.next().is_some() {}
    format!("{}{}", &DOTS[..DOTS.len().min(room)], end.as_str())
}

/// The sign for omitted words; every terminal can show it.
const DOTS: &str = "...";

/// Writes one line that ends at the area's right edge.
pub fn right(area: Rect, buf: &mut Buffer, text: &str, style: Style) {
    line(last_columns(area, text.width() as u16), buf, text, style);
}

/// Writes one line across its whole row.
pub fn band(area: Rect, buf: &mut Buffer, text: &str, style: Style) {
    buf.set_style(rows(area, 0, 1), style);
    line(area, buf, text, style);
}

/// How text is wrapped: between words.
pub fn wrap_options(width: u16) -> textwrap::Options<'static> {
    textwrap::Options::new(width.max(1).into())
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
}

/// Text wrapped between words; a word longer than a row is cut.
pub fn wrap(text: &str, width: u16) -> Vec<Cow<'_, str>> {
    textwrap::wrap(text, wrap_options(width))
}

/// Writes text, wrapped between words; returns how many rows it took.
pub fn wrapped(area: Rect, buf: &mut Buffer, text: &str, style: Style) -> u16 {
    // Most text fits in one row: every frame of the stitches has such a sentence.
    if area.height > 0 && !text.contains('\n') && text.width() <= usize::from(area.width) {
        line(area, buf, text.trim_start(), style);
        return 1;
    }
    let mut lines = wrap(text, area.width);
    if let Some(last) = usize::from(area.height).checked_sub(1)
        && last + 1 < lines.len()
    {
        let rest = lines.split_off(last).join(" ");
        lines.push(fit(&rest, area.width.into()).into());
    }
    let taken = (lines.len() as u16).min(area.height);
    for (y, words) in (0..taken).zip(lines) {
        line(rows(area, y, 1), buf, words.trim_start(), style);
    }
    taken
}

/// Rows that text takes when it is wrapped between words.
pub fn height<'a>(text: impl Into<Text<'a>>, width: u16) -> u16 {
    let rows = |line: Line| match line.width() <= usize::from(width) {
        true => 1,
        false => wrap(&line.to_string(), width).len(),
    };
    let all: usize = text.into().lines.into_iter().map(rows).sum();
    all.min(9999) as u16
}

/// Writes lines at the top of an area; returns what is left below them.
pub fn above(area: Rect, buf: &mut Buffer, lines: Vec<Line<'static>>) -> Rect {
    let high = height(lines.clone(), area.width).min(area.height);
    scrolled(rows(area, 0, high), buf, lines, 0);
    rows(area, high, area.height)
}

/// Lines of text that can be longer than the area, from a row on.
pub fn scrolled(area: Rect, buf: &mut Buffer, lines: Vec<Line<'static>>, from: usize) {
    let all: Vec<Line> = { lines }
        .into_iter()
        .flat_map(|line| in_rows(line, area.width))
        .collect();
    let from = from.min(all.len().saturating_sub(area.height.into()));
    for (y, row) in (area.y..area.bottom()).zip(&all[from..]) {
        buf.set_line(area.x, y, row, area.width);
    }
}

/// A line wrapped between words.
fn in_rows(line: Line<'static>, width: u16) -> Vec<Line<'static>> {
    if line.width() <= usize::from(width) {
        return vec![line];
    }
    let words = line.to_string();
    let mut at = 0;
    let part = |row: Cow<str>| {
        // Only blanks are left out between two rows.
        let from = at + words[at..].find(&*row).unwrap_or(0);
        at = from + row.len();
        let mut start = 0;
        let spans = line.spans.iter().filter_map(|span| {
            let end = start + span.content.len();
            let [a, b] = [from, at].map(|edge| edge.clamp(start, end) - start);
            start = end;
            (a < b).then(|| Span::styled(span.content[a..b].to_string(), span.style))
        });
        spans.collect::<Line>().style(line.style)
    };
    wrap(&words, width).into_iter().map(part).collect()
}

/// A progress bar: `████░░░░`.
pub fn bar(signs: [char; 2], part: u64, whole: u64, width: usize) -> String {
    let done = match whole {
        0 => 0,
        _ => (part.min(whole) as u128 * width as u128 / u128::from(whole)) as usize,
    };
    let mut out: String = std::iter::repeat_n(signs[0], done).collect();
    out.extend(std::iter::repeat_n(signs[1], width - done));
    out
}

/// The text of a buffer, line by line.
pub fn letters_of(buf: &Buffer) -> String {
    let area = buf.area;
    let mut text = String::new();
    for y in area.top()..area.bottom() {
        text.extend((area.left()..area.right()).map(|x| buf[(x, y)].symbol()));
        text.push('\n');
    }
    text
}

/// The cells as lines, each with its style.
pub fn lines_of(buf: &Buffer) -> Vec<Line<'static>> {
    let span = |cell: &Cell| Span::styled(cell.symbol().to_string(), cell.style());
    let rows = buf.content.chunks(usize::from(buf.area.width.max(1)));
    rows.map(|row| row.iter().map(span).collect()).collect()
}

/// A line with one style.
pub fn styled(text: impl Into<String>, style: Style) -> Line<'static> {
    Line::from(Span::styled(text.into(), style))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::buffer::Cell;

    #[test]
    fn omitted_words_are_marked() {
        assert_eq!(fit("pick up 1 S", 11), "pick up 1 S");
        assert_eq!(fit("pick up 1 S, go on", 15), "pick up 1 S...");
        assert_eq!(fit("pick up 1 S, go on", 12), "pick up 1...");
        assert_eq!(fit("embroidery", 7), "embr...");
        assert_eq!(fit("embroidery", 2), "..");
        assert_eq!(fit_end("(star-2)", 8), "(star-2)");
        assert_eq!(fit_end("(star-2)", 7), "...r-2)");
        assert_eq!(fit_end("(star-2)", 2), "..");
        let mut buf = Buffer::empty(Rect::new(0, 0, 10, 2));
        wrapped(
            buf.area,
            &mut buf,
            "one two three four five six",
            Style::new(),
        );
        assert_eq!(letters_of(&buf), "one two   \nthree...  \n");
    }

    /// Letters two columns wide are cut as well where only one column is left.
    #[test]
    fn wrapped_text_stays_in_its_area_whatever_its_letters() {
        let letters = [
            'a',
            ' ',
            'é',
            '日',
            '\u{301}',
            '\u{a1f93}',
            '👩',
            '\u{200d}',
            '█',
        ];
        for width in 1..4 {
            for n in 0..letters.len().pow(4) {
                let pick = |k: u32| letters[n / letters.len().pow(k) % letters.len()];
                let text: String = (0..4).map(pick).collect();
                let area = Rect::new(1, 1, width, 4);
                let whole = Rect::new(0, 0, width + 3, 6);
                let mut buf = Buffer::empty(whole);
                wrapped(area, &mut buf, &text, Style::new());
                let mut beside = whole.positions().filter(|p| !area.contains(*p));
                assert!(
                    beside.all(|p| buf[p] == Cell::default()),
                    "{text:?} in {width}"
                );
            }
        }
    }
}
