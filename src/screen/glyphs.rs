//! The signs of the screen: for terminals that show all characters, and for
//! those that show only ASCII.

/// The signs of the picture and of the lines around it.
#[derive(Debug)]
pub struct Signs {
    /// Right edge of a solid brick.
    pub edge: char,
    /// Lower edge of a solid brick.
    pub floor: char,
    /// The corners and lines of a hollow brick: upper left, upper right,
    /// lower left, lower right, across, down.
    pub hollow: [char; 6],
    /// The same for the place of the new bead.
    pub seat: [char; 6],
    /// The needle comes out here.
    pub needle: char,
    /// Enter here, when the needle goes to the left, and to the right.
    pub enter: [char; 2],
    /// A line, its left end and its right end.
    pub rule: [char; 3],
    /// An arrow to the left, and to the right.
    pub arrow: [char; 2],
    /// Arrows: to the right, then clockwise in steps of an eighth turn.
    pub ways: [char; 8],
    /// A progress bar: done, and to come.
    pub bar: [char; 2],
    /// Between parts of a line.
    pub dot: &'static str,
    /// A job that is done, one in progress, one to come.
    pub job: [char; 3],
    pub note: char,
    /// A warning.
    pub watch: char,
    /// A line between things side by side.
    pub upright: char,
    /// The new bead, where there is room for only one sign.
    pub new: char,
    /// The thread as it lies, and its path from here.
    pub thread: [char; 2],
}

impl Signs {
    /// The signs used in texts and drawings.
    fn in_texts(&self) -> [char; 17] {
        let [a, b, c, d, e, f] = self.hollow;
        let [g, h, i, j, k, l] = self.seat;
        let [m, n] = self.enter;
        let [o, p] = self.arrow;
        [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, self.needle]
    }

    /// A text written with the signs of [`FULL`], changed to these.
    pub fn letters(&self, text: &str) -> String {
        let (full, own) = (FULL.in_texts(), self.in_texts());
        let own = |sign: char| match full.iter().position(|s| *s == sign) {
            Some(at) => own[at],
            None => sign,
        };
        text.chars().map(own).collect()
    }
}

/// For terminals that show all characters.
pub static FULL: Signs = Signs {
    edge: '▕',
    floor: '▁',
    hollow: ['┌', '┐', '└', '┘', '╌', '╎'],
    seat: ['╔', '╗', '╚', '╝', '═', '║'],
    needle: '◆',
    enter: ['◀', '▶'],
    rule: ['─', '├', '┤'],
    arrow: ['←', '→'],
    ways: ['→', '↘', '↓', '↙', '←', '↖', '↑', '↗'],
    bar: ['█', '░'],
    dot: " · ",
    job: ['✓', '▶', ' '],
    note: '✎',
    watch: '▲',
    upright: '│',
    new: '◇',
    thread: ['•', '∘'],
};

/// For terminals that show only ASCII.
pub static ASCII: Signs = Signs {
    edge: '|',
    floor: '_',
    hollow: ['.', '.', '\'', '\'', ' ', ' '],
    seat: ['#', '#', '#', '#', '#', '#'],
    needle: '@',
    enter: ['<', '>'],
    rule: ['-', '|', '|'],
    arrow: ['<', '>'],
    ways: ['>', '\\', 'v', '/', '<', '\\', '^', '/'],
    bar: ['#', '.'],
    dot: " - ",
    job: ['x', '>', ' '],
    note: '*',
    watch: '!',
    upright: '|',
    new: 'O',
    thread: ['*', 'o'],
};
