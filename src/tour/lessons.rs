//! The lessons. What goes wrong is what commonly does at the table: common
//! practice, no source.

use super::{Lesson, When};

/// All lessons, in the order in which they are due.
pub const LESSONS: &[Lesson] = &[
    Lesson {
        name: "thread",
        title: "Thread and tail",
        when: When::Thread,
        words: &["tail", "thread", "needle"],
        hands: "Cut the thread and put one end through the needle. The other end is the tail: leave it hanging, and hold it with the hand that holds the work. Done? Press {on}.",
        look: "Beads in heaps by colour. Each colour has a letter here.",
        wrong: "The tail slips out? Wind it once about a finger.",
    },
    Lesson {
        name: "ring",
        title: "The ring",
        when: When::Ring,
        words: &["ring", "bead"],
        hands: "Pick up one bead, push it down to the tail, press {on}; then the next. These beads become a ring, the middle of the work.",
        look: "{see:The strong frame is the new bead. }The letter says which colour to take.",
        wrong: "A wrong bead? Slide it off again, and press {back}.",
    },
    Lesson {
        name: "ring-closed",
        title: "The first round",
        when: When::RingClosed,
        words: &["round", "ring"],
        hands: "Go through the first bead once more, from the same end as before, and draw the beads to \
                a ring. The ring is round 1: a round is one trip round the work.",
        look: "The thread comes out of the first bead, beside the tail.",
        wrong: "Gone in at the wrong end, the bead turns over.",
    },
    Lesson {
        name: "increase",
        title: "Increase: two beads",
        when: When::Increase,
        words: &["increase", "gap", "corner pair"],
        hands: "Between two beads is a gap. Pick up two beads, lay them side by side into the gap, and \
                go through the next bead of the round before. Here the panel grows a corner.",
        look: "Two new beads side by side; no old bead passed over.",
        wrong: "Look before you pull: while the thread is loose, all can be undone.",
    },
    Lesson {
        name: "step-up",
        title: "Step-up: a round ends",
        when: When::StepUp,
        words: &["step-up", "round"],
        hands: "The round is full. Go through bead 1, where the round began, and on through bead 2, its \
                first new bead: two beads in one movement.",
        look: "The needle comes out of a bead of the newest round.",
        wrong: "A step-up missed: every later round spirals.",
    },
    Lesson {
        name: "count",
        title: "Count when you like",
        when: When::RoundDone,
        words: &["count", "high bead", "round"],
        hands: "Count the beads of the round just done, all the way round. Type the number, then Enter: you hear whether it is right. Then go on here.",
        look: "Count those that stick out, the high beads. Lower ones are older.",
        wrong: "Twice as many? The low beads were counted too. No answer harms.",
    },
    Lesson {
        name: "gap",
        title: "Stitch: one bead",
        when: When::Stitch,
        words: &["stitch", "gap", "high bead"],
        hands: "Pick up one bead, lay it into the gap, and go through the next high bead, the one that sticks out. This is the plain stitch. The needle goes {onward}.",
        look: "The new bead sits in the gap like a brick in a wall.",
        wrong: "A gap skipped is a bead too few, two beads in a gap one too many.",
    },
    Lesson {
        name: "edge",
        title: "The edge",
        when: When::Edge,
        words: &["edge", "side", "high bead"],
        hands: "The panel has all its rounds. Turn it in your hand and count the high beads, side by side. Type how many there are all round, then Enter; {see:space}{hear:Enter alone} goes on.",
        look: "Every side has the same number of high beads.",
        wrong: "A side that differs is mended most easily now.",
    },
    Lesson {
        name: "pass-through",
        title: "Pass through: no bead",
        when: When::PassThrough,
        words: &["pass through", "full bead"],
        hands: "Go through beads that are there already{see:, those that are marked, in the order of their numbers}. Add none. So the needle gets to where the next stitch starts.",
        look: "The thread lies inside the beads: no loop shows.",
        wrong: "The needle sticks? Never force it, a bead can break.",
    },
    Lesson {
        name: "join-row",
        title: "Join row: beads to hold",
        when: When::JoinRow,
        words: &["join row", "join bead", "edge"],
        hands: "Stitch one bead into each gap, along one side only. Later the edge of another panel \
                locks between these beads.",
        look: "The row has one bead fewer than the side has high beads.",
        wrong: "A gap skipped leaves a hole in the join.",
    },
    Lesson {
        name: "thread-ends",
        title: "The end of the thread",
        when: When::ThreadEnds,
        words: &["weave", "tail"],
        hands: "Weave the thread in{see:, through the beads that are marked}. Then pull softly and cut it close to the bead. Weave the tail in the same way.",
        look: "Pull the last bead a little: nothing slides.",
        wrong: "Scissors cut beadwork too: hold it away from the blades.",
    },
    Lesson {
        name: "free-start",
        title: "Inward from the edge",
        when: When::FreeStart,
        words: &["free start", "inward", "round"],
        hands: "This panel begins at its edge. String its two outermost rounds as one string, bead by \
                bead, in the order shown. Push them all down to the tail.",
        look: "Take the colour of the letter.{see: The bar below tells how many there are.}",
        wrong: "A wrong one? Slide beads off and press {back} for each.",
    },
    Lesson {
        name: "free-start-closed",
        title: "The string closes",
        when: When::FreeStartClosed,
        words: &["free start", "step-down"],
        hands: "Lay the string in a circle, not twisted. Go through the first two beads that you strung, \
                1 and 2, and draw it closed.",
        look: "The beads move into two rounds: one further out, the other further in.",
        wrong: "Twisted, it will not lie flat: open it and lay it again.",
    },
    Lesson {
        name: "inward-stitch",
        title: "Stitch inward",
        when: When::InwardStitch,
        words: &["inward", "gap", "stitch"],
        hands: "The same stitch as before: one bead into the gap, and through the next bead. But now the \
                gaps lie on the side of the middle.",
        look: "The new bead points to the middle.{see: In the picture it hangs down.}",
        wrong: "On the outside is the edge of the panel: no bead goes there.",
    },
    Lesson {
        name: "decrease",
        title: "Decrease: no bead",
        when: When::Decrease,
        words: &["decrease", "corner"],
        hands: "At a corner pick up no bead. Go straight into the first bead of the next side, and draw \
                the two together.",
        look: "The two beads touch, and nothing lies between them.",
        wrong: "A bead strung at a corner, the commonest slip: one too many.",
    },
    Lesson {
        name: "step-down",
        title: "Step-down: inward ends",
        when: When::StepDown,
        words: &["step-down", "step-up"],
        hands: "The last corner takes no bead either. Go through beads 1 and 2 in one movement: this \
                draws the corner together and ends the round.",
        look: "The needle comes out of the first bead of this round.",
        wrong: "Only one bead gone through? The next round would spiral.",
    },
    Lesson {
        name: "close",
        title: "Close the middle",
        when: When::Close,
        words: &["close", "ring"],
        hands: "Go through all beads of the last ring and once more through the first. Then pull until \
                the middle is shut.",
        look: "The middle is shut, and the panel lies flat.",
        wrong: "A hard pull can break a bead or cut the thread: pull softly, twice.",
    },
    Lesson {
        name: "firm",
        title: "Firm the rim",
        when: When::Firm,
        words: &["firm", "rim", "opening"],
        hands: "Run the thread round the rim again, through the beads with the numbers, and draw it firm \
                but not tight.",
        look: "The opening keeps its shape when you put the work down.",
        wrong: "Drawn too tight, the opening shrinks and the panel cups.",
    },
    Lesson {
        name: "zip",
        title: "Zip: two edges join",
        when: When::Zip,
        words: &["zip", "join bead", "edge bead", "tooth"],
        hands: "Lay the two edges side by side, both panels as they faced you at work. Go through a join bead, then through an edge bead of the other panel. No bead is added.",
        look: "The edge beads slip between the join beads, like teeth.",
        wrong: "Pull firm every few teeth, and look for a loop caught round a bead.",
    },
    Lesson {
        name: "fold",
        title: "Fold",
        when: When::Fold,
        words: &["fold", "join"],
        hands: "Turn the panel about the side just joined until its next side meets its partner. No \
                thread moves.",
        look: "Both panels show their outside.",
        wrong: "Folded the other way, the panel is zipped with its outside in.",
    },
    Lesson {
        name: "finished",
        title: "You have done the tour",
        when: When::Finished,
        words: &["round", "gap"],
        hands: "You have worked through a whole piece. All larger pieces are made of these movements. {see:Press t for the tray and choose what comes next.}{hear:q ends; weather-wheel and lamp-pull are patterns to go on with.}",
        look: "Lay the piece flat and stroke it: no loop, no loose bead.",
        wrong: "Put needles and scissors away, gather loose beads, rest your eyes.",
    },
];
