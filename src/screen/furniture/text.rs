//! Lines of text in an area.

use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span, Text};
use ratatui::widgets::{Paragraph, Widget as _, Wrap};
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

/// Writes text, wrapped between words; returns how many rows it took.
pub fn wrapped(area: Rect, buf: &mut Buffer, text: &str, style: Style) -> u16 {
    let is_plain = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if is_plain && !text.is_empty() && text.len() <= usize::from(area.width) && area.height > 0 {
        line(area, buf, text.trim_start(), style);
        return 1;
    }
    let mut text = Text::from(parted(text, usize::from(area.width))).style(style);
    let taken = height(text.clone(), area.width).min(area.height);
    if taken > 0 && taken < height(text.clone(), area.width) {
        let rows = broken(&text.to_string(), area.width, u16::MAX);
        let (all, last) = (usize::from(taken), usize::from(taken) - 1);
        let rest = rows.get(last..).unwrap_or_default().join(" ");
        let rows = rows.iter().take(last).cloned();
        let rows = rows.chain([fit(&rest, usize::from(area.width))]);
        text = Text::from(rows.take(all).collect::<Vec<_>>().join("\n")).style(style);
    }
    Paragraph::new(text)
        .wrap(Wrap { trim: true })
        .render(rows(area, 0, taken), buf);
    taken
}

/// Splits words with letters two columns wide where a row ends, which the
/// paragraph itself does not do within its area.
fn parted(text: &str, width: usize) -> String {
    let is_wide = |c: char| c.width().unwrap_or(0) > 1;
    if !text.contains(is_wide) {
        return text.to_string();
    }
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    for c in text.chars() {
        let (c, long) = match c.width().unwrap_or(0) {
            long if long > width => ('?', 1),
            long => (c, long),
        };
        match c.is_whitespace() {
            true => at = 0,
            false if at + long > width => {
                out.push(' ');
                at = long;
            }
            false => at += long,
        }
        out.push(c);
    }
    out
}

/// Rows that text takes when it is wrapped between words.
pub fn height<'a>(text: impl Into<Text<'a>>, width: u16) -> u16 {
    let text: Text = text.into();
    let width = usize::from(width.max(1));
    let rows = |line: &Line| {
        // Words are placed one after another, as the paragraph does it.
        let words: String = line.spans.iter().map(|s| s.content.as_ref()).collect();
        let (mut rows, mut at) = (1, 0);
        for word in words.split(' ').filter(|w| !w.is_empty()) {
            let long = word.width();
            match at {
                0 => at = long,
                _ if at + 1 + long <= width => at += 1 + long,
                _ => (rows, at) = (rows + 1, long),
            }
            while at > width {
                (rows, at) = (rows + 1, at - width);
            }
        }
        rows
    };
    text.lines.iter().map(rows).sum::<usize>().min(9999) as u16
}

/// Text wrapped between words into at most `most` rows.
pub fn broken(text: &str, width: u16, most: u16) -> Vec<String> {
    let width = usize::from(width);
    let mut rows: Vec<String> = vec![];
    for line in text.lines() {
        let mut row = String::new();
        for word in line.split_whitespace() {
            if !row.is_empty() && row.width() + 1 + word.width() > width {
                rows.push(std::mem::take(&mut row));
            }
            if !row.is_empty() {
                row.push(' ');
            }
            row.push_str(word);
        }
        rows.push(row);
    }
    rows.truncate(usize::from(most));
    rows
}

/// Lines of text that can be longer than the area, from a line on; returns
/// whether there is more below.
pub fn scrolled(area: Rect, buf: &mut Buffer, lines: Vec<Line<'_>>, from: usize) -> bool {
    let rows: u16 = lines.iter().map(|l| height(l.clone(), area.width)).sum();
    let last = rows.saturating_sub(area.height);
    let from = (from.min(usize::from(last))) as u16;
    let narrow = usize::from(area.width);
    let lines = lines.into_iter().map(|line| {
        let words = line.to_string();
        match parted(&words, narrow) {
            same if same == words => line,
            parted => {
                let style = line.spans.first().map_or(Style::new(), |span| span.style);
                styled(parted, style.patch(line.style))
            }
        }
    });
    Paragraph::new(lines.collect::<Vec<_>>())
        .wrap(Wrap { trim: false })
        .scroll((from, 0))
        .render(area, buf);
    from < last
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
