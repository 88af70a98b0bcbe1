//! The command line: every command and option. Help, man page and shell
//! completions are made from this.

use std::path::PathBuf;

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::engine::ArgValueCompleter;

use super::completion;
use super::value::{
    Counts, bead_colour, counted, millimetres, percent, seconds, shape, tetrahedra, whole,
};

/// A stitch-along companion for geometric beadwork
///
/// threadmark always knows which bead the needle comes out of, what the next
/// movement is, and how many beads there should be. One key is one movement of
/// the needle; stop at any moment, and it finds your place again.
///
/// A pattern is a file; a piece is one making of a pattern, with its own copy
/// of it and its progress; the tray holds your pieces; a job is one stage of a
/// piece (a panel, a join, a fill); a step is one movement of the needle.
///
/// Without a command it opens the tray, or the demo piece if the tray is empty.
#[derive(Debug, Parser)]
#[command(
    name = "threadmark",
    version,
    max_term_width = 100,
    after_help = EXAMPLES,
    after_long_help = EXAMPLES_AND_CODES,
)]
pub(super) struct Cli {
    /// The directory of the tray
    ///
    /// Without it, the directory in the environment variable THREADMARK_TRAY is
    /// used, or else the platform's directory for a user's data.
    #[arg(long, value_name = "DIR", global = true)]
    pub(super) tray: Option<PathBuf>,
    #[command(flatten)]
    pub(super) screen: ScreenOptions,
    #[command(subcommand)]
    pub(super) command: Option<Command>,
}

macro_rules! examples {
    () => {
        "\
Examples:
  threadmark                                open the tray, or the demo if it is empty
  threadmark patterns                       what you can stitch, easiest first
  threadmark stitch practice-pair           the beginner's tour: two little triangles
  threadmark stitch night-kite              begin this pattern, or continue it
  threadmark stitch star.json               the same with a pattern of your own
  threadmark rounds star.json               see how its rounds grow
  threadmark steps star.json --json         every step, for another program"
    };
}

const EXAMPLES: &str = examples!();

const EXAMPLES_AND_CODES: &str = concat!(
    examples!(),
    "

Exit codes:
  0  done
  1  the answer is no: a count that differs, a pattern that fails to verify
  2  the command line or a file is wrong

Environment:
  THREADMARK_TRAY      the directory of the tray, unless --tray names one
  THREADMARK_SETTINGS  the file of your settings, instead of the platform's file
  NO_COLOR             if set to anything, no colour, unless --colour asks for it
  CLICOLOR             if 0, no colour, unless CLICOLOR_FORCE or --colour asks for it"
);

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Stitch(StitchArgs),
    Patterns(PatternsArgs),
    /// Print the table of rounds
    ///
    /// For each job that makes rounds, and for each of its rounds, in the order of
    /// work: beads in the round, beads on each side, the running total of the job,
    /// how many beads go into each gap, and the colours of each side from its first
    /// bead to its last.
    ///
    /// Into gaps: 1 is a plain stitch, 2 an increase, 0 a decrease; 1*4 is four
    /// times 1. In a colour word S3 is three beads of S. A join row is the round
    /// after the panel's last.
    #[command(after_help = "\
Examples:
  threadmark rounds practice-triangle
  threadmark rounds star.json --json")]
    Rounds(PatternOrPieceArgs),
    Steps(StepsArgs),
    /// Print every bead
    ///
    /// Its colour, job, panel, round, side and place, the position of its middle in
    /// the finished piece in millimetres, and how often the needle passes through
    /// it in all. Beads are numbered in the order in which they are strung.
    #[command(after_help = "\
Examples:
  threadmark beads practice-triangle
  threadmark beads star.json --json")]
    Beads(PatternOrPieceArgs),
    /// Prove the steps of a pattern or a piece against the rules of beadwork
    ///
    /// The check shares no code with the planner of the steps. It checks that each
    /// bead is strung once, the thread goes from bead to touching bead, each round
    /// has the beads of its law, each side of a solid is joined once, at a hinge a
    /// face is sewn only to its own solid, every step-up and step-down passes two
    /// beads, and no hole is passed more often than it has room for. Exit code 0 if
    /// all is proved, 1 if not.
    #[command(after_help = "\
Examples:
  threadmark verify star.json
  threadmark verify evening-star
  threadmark verify star.json --json")]
    Verify(PatternOrPieceArgs),
    Plan(PlanArgs),
    Sheet(SheetArgs),
    Picture(PictureArgs),
    Check(CheckArgs),
    Draft(DraftArgs),
    Locate(LocateArgs),
    Pieces(PiecesArgs),
    Manual(ManualArgs),
}

/// How the stitch-along looks.
#[derive(Args, Clone, Debug, Default)]
pub(super) struct ScreenOptions {
    /// One line for each step instead of the full screen
    ///
    /// For screen readers and for reading aloud. It reads commands from
    /// standard input, and works without a terminal. A terminal that cannot do
    /// more (TERM=dumb) always gets it.
    #[arg(long)]
    pub(super) plain: bool,
    /// Mirror pictures and directions for a left-handed maker
    #[arg(long)]
    pub(super) left_handed: bool,
    /// How many colours to draw with
    ///
    /// Nothing is shown by colour alone: each bead colour has its letter.
    #[arg(long, value_name = "WHICH", value_enum, default_value_t)]
    pub(super) colour: ColourDepth,
    /// Whether the terminal has a light or a dark background
    ///
    /// The program asks the terminal; use this if the terminal gives no answer
    /// or a wrong one.
    #[arg(long, value_name = "WHICH", value_enum)]
    pub(super) ground: Option<GroundArg>,
    /// Read everything aloud with this speech program
    ///
    /// It is started again for each key, with the words on its standard input,
    /// and stopped when there is something new. Works with and without --plain.
    #[arg(long, value_name = "COMMAND")]
    pub(super) say: Option<String>,
}

/// The background of the terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum GroundArg {
    /// Dark letters on light
    Light,
    /// Light letters on dark
    Dark,
}

/// How many colours to draw with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum ColourDepth {
    /// As many as the terminal says; none if NO_COLOR is set
    #[default]
    Auto,
    /// Any colour of 16 million
    True,
    /// 256 colours
    #[value(name = "256")]
    Fixed,
    /// 16 colours
    #[value(name = "16")]
    Basic,
    /// No colour at all
    None,
}

impl ScreenOptions {
    /// Combines the options given after the command with those given before it;
    /// those after it win.
    pub(super) fn or(self, before: ScreenOptions) -> ScreenOptions {
        ScreenOptions {
            plain: self.plain || before.plain,
            left_handed: self.left_handed || before.left_handed,
            ground: self.ground.or(before.ground),
            say: self.say.or(before.say),
            colour: match self.colour {
                ColourDepth::Auto => before.colour,
                colour => colour,
            },
        }
    }
}

/// The piece or pattern of a command.
#[derive(Args, Clone, Debug)]
pub(super) struct PatternOrPieceArg {
    /// A piece of the tray, a pattern file, the name of a pattern that comes with the program, or - for standard input
    #[arg(value_name = "PATTERN or PIECE", add = ArgValueCompleter::new(completion::pieces_and_patterns))]
    pub(super) name: String,
}

/// The arguments of a command that only shows a piece or pattern.
#[derive(Args, Debug)]
pub(super) struct PatternOrPieceArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// A piece that a command changes or copies.
#[derive(Args, Clone, Debug)]
pub(super) struct PieceArg {
    /// A piece of the tray, by the name that `threadmark pieces` shows
    #[arg(value_name = "PIECE", add = ArgValueCompleter::new(completion::pieces))]
    pub(super) piece: String,
}

/// JSON output for other programs.
#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct JsonOption {
    /// Print JSON in the formats of docs/outputs.md; errors too
    #[arg(long, global = true)]
    pub(super) json: bool,
}

/// Open the stitch-along
///
/// A piece continues where you stopped. A pattern continues with the unfinished
/// piece of it that you worked on last; if there is none, a new piece begins,
/// with its own copy of the pattern. Without a name it opens the demo.
///
/// A name or title is looked up first in the tray, then among the patterns that
/// come with the program; but the name of one of these patterns means the
/// unfinished piece of it that you worked on last, also where another piece has
/// that name. A name with a slash, or one that ends in .json, is a file.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark stitch                         the demo piece
  threadmark stitch evening-star            continue a piece of the tray
  threadmark stitch star.json               continue the piece of that pattern, or begin one
  threadmark stitch star.json --new         begin that pattern again
  threadmark stitch star.json --plain       one line for each step
  threadmark stitch evening-star --look     look without writing anything
  threadmark stitch --free                  without a pattern: asks what it begins with
  threadmark stitch --free 'Paper star' --ring 3
  threadmark stitch --free Band --start strip --size 12
                                            without a pattern, a strip of twelve beads across")]
pub(super) struct StitchArgs {
    /// A piece of the tray, a pattern file, or the name of a pattern that comes with the program
    #[arg(value_name = "PATTERN or PIECE", add = ArgValueCompleter::new(completion::pieces_and_patterns))]
    pub(super) name: Option<String>,
    /// Begin a new piece of the pattern, even if one isn't finished
    #[arg(long)]
    pub(super) new: bool,
    /// Stitch without a pattern: begin a piece of this name, or continue it
    ///
    /// In the stitch-along, `d` puts as many beads into each gap as you choose.
    #[arg(long, conflicts_with_all = ["new", "look"])]
    pub(super) free: bool,
    /// What a free piece begins with
    ///
    /// If this, --size and --ring are all left out, the program asks.
    #[arg(long, value_name = "START", requires = "free")]
    pub(super) start: Option<FreeShape>,
    /// Rounds of a free piece from a string, or beads across a strip: 2 to 200
    #[arg(long, value_name = "NUMBER", requires = "free", value_parser = whole::<u16>(2, 200))]
    pub(super) size: Option<u16>,
    /// Sides of a free piece in rounds, 3 to 12; a ring has the same number of
    /// beads
    #[arg(long, value_name = "BEADS", requires = "free", value_parser = whole::<u8>(3, 12))]
    pub(super) ring: Option<u8>,
    /// Look at the piece without writing anything. With --new, try out the
    /// pattern
    #[arg(long)]
    pub(super) look: bool,
    #[command(flatten)]
    pub(super) screen: ScreenOptions,
}

/// Print the available patterns, easiest first
///
/// The patterns that come with the program, and the pattern files in the
/// current directory: the width of the finished piece, its beads, the hours
/// that it takes, and how hard it is.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark patterns
  threadmark patterns --json")]
pub(super) struct PatternsArgs {
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Print the steps in order
///
/// One line for each step, job by job: its number, what to do, and where. For a
/// piece these are the steps as worked so far and as planned from there, in the
/// colours that the maker painted.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark steps practice-triangle
  threadmark steps star.json --from 41 --count 3
  threadmark steps evening-star --from 41
  threadmark steps star.json --json")]
pub(super) struct StepsArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    /// The first step to print
    #[arg(long, value_name = "N", default_value = "1", value_parser = whole::<u32>(1, u32::MAX))]
    pub(super) from: u32,
    /// How many steps to print; all if not given
    #[arg(long, value_name = "N", value_parser = whole::<u32>(0, u32::MAX))]
    pub(super) count: Option<u32>,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Plan a piece before cutting thread
///
/// Beads by colour with spare ones, grams, thread job by job and length by
/// length, needle, steps and hours, finished size, whether panels lie flat,
/// whether a ring turns, which stones an opening holds, the fullest holes and
/// what would help, kinds of panel, the order of joins, and colours that are
/// hard to tell apart. All of it is computed from the steps.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark plan night-kite
  threadmark plan star.json --spare 10 --pace 4.5 --inches
  threadmark plan star.json --stone 6.5
  threadmark plan star.json --cut 2000 --json")]
pub(super) struct PlanArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    /// Spare beads to buy, as a percentage of those needed
    #[arg(long, value_name = "PERCENT", default_value_t = 5.0, value_parser = percent)]
    pub(super) spare: f64,
    /// Your own pace: seconds for a stitch; other movements in proportion
    #[arg(long, value_name = "SECONDS", default_value_t = crate::plan::pace::STITCH, value_parser = seconds)]
    pub(super) pace: f64,
    /// Say at which round to stop for a round stone of this width
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) stone: Option<f64>,
    /// Plan with thread cut to this length instead of the pattern's
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) cut: Option<f64>,
    /// Lengths in inches and feet; JSON stays in millimetres
    #[arg(long)]
    pub(super) inches: bool,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Write a handout that works without the program
///
/// For a class, or for the mat: title, cautions, what the piece needs, a
/// drawing for each kind of panel with its rounds numbered, each round in words
/// with its counts, a drawing for each kind of join, and boxes to tick. It is
/// one file that includes all drawings. HTML prints well on A4 and Letter and
/// can be read in grey; SVG has only the drawings; text is plain text of at
/// most 80 columns.
///
/// Equal panels and joins are described and drawn once, with how many of them
/// to make. Large panels are drawn round by round instead of bead by bead, and
/// very long lists are cut; the handout says where.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark sheet night-kite -o night-kite.html
  threadmark sheet night-kite --paper letter -o night-kite.html
  threadmark sheet star.json -o star.svg --force
  threadmark sheet practice-triangle            the text, in a terminal
  threadmark sheet star.json --left-handed --inches -o star.html")]
pub(super) struct SheetArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    /// What to write
    ///
    /// Without it the ending of FILE says it: .html, .svg or .txt; without an
    /// ending it is HTML. Without a file it is text in a terminal, and HTML for
    /// another program.
    #[arg(long, value_name = "WHAT", value_enum)]
    pub(super) to: Option<SheetKind>,
    /// The file to write; standard output if not given, or if it is -
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long, requires = "output")]
    pub(super) force: bool,
    /// Set the paper for printing, HTML only
    ///
    /// Without it the handout fits both sizes.
    #[arg(long, value_name = "PAPER", value_enum)]
    pub(super) paper: Option<PaperName>,
    /// Mirror drawings and directions for a left-handed maker
    #[arg(long)]
    pub(super) left_handed: bool,
    /// Lengths in inches and feet
    #[arg(long)]
    pub(super) inches: bool,
    /// Print JSON about the handout in the format of docs/outputs.md
    ///
    /// With -o FILE the handout is written too.
    #[arg(long)]
    pub(super) json: bool,
}

/// Draw the piece as a picture
///
/// As it looks when finished, or with --worked as far as it is worked. PNG has
/// a transparent background; SVG draws each bead, and takes at most 100,000
/// beads.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark picture night-kite -o night-kite.png
  threadmark picture star.json --width 1200 -o star.svg
  threadmark picture evening-star --worked -o so-far.png --force")]
pub(super) struct PictureArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    /// The file to write: its name ends in .png or .svg
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: PathBuf,
    /// Replace an existing file
    #[arg(long)]
    pub(super) force: bool,
    /// Show how far the piece is worked, instead of finished
    #[arg(long)]
    pub(super) worked: bool,
    /// Width and height in pixels, 100 to 1200
    #[arg(long, value_name = "POINTS", default_value_t = 800, value_parser = whole::<u16>(100, 1200))]
    pub(super) width: u16,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// What a free piece begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum FreeShape {
    /// A ring, worked outward
    Ring,
    /// A string closed to a ring, its outermost two rounds, worked inward
    String,
    /// A strip of flat peyote, in rows
    Strip,
}

/// The paper of a handout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum PaperName {
    /// 210 × 297 mm
    A4,
    /// 8.5 × 11 in
    Letter,
}

/// The format of a handout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SheetKind {
    /// One page with drawings, for printing
    Html,
    /// The drawings alone
    Svg,
    /// Plain text
    Text,
}

/// Write a new pattern file for a shape, a solid, a folded pair or a ring
///
/// Give the size in rounds, or in finished millimetres for the nearest size
/// that beads allow. Thread and needle are chosen so that they go through every
/// bead comfortably, unless you give them. The file is a pattern like any
/// other: read it, change it, plan and stitch it.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark draft ring
  threadmark draft octahedron --across 40 --size 'cylinder 15/0' -o bauble.json
  threadmark draft tetrahedron --rounds 10 --stone 6.7 -o lantern.json
  threadmark draft --from evening-star -o star.json
  threadmark draft hexagon --bead 'P:plum:#4a2145' --bead 'C:cream:#f2e6c6'")]
pub(super) struct DraftArgs {
    /// What to draft
    #[arg(value_name = "SHAPE", value_parser = shape(), required_unless_present = "from")]
    pub(super) shape: Option<crate::plan::draft::DraftShape>,
    /// Instead, write this piece as it was really worked
    ///
    /// Rounds that follow a corner law are written by that law, all others gap
    /// by gap. Steps still to come are written as planned.
    #[arg(long, value_name = "PIECE", conflicts_with_all = ["shape", "how_big"], add = ArgValueCompleter::new(completion::pieces_and_patterns))]
    pub(super) from: Option<String>,
    /// Rounds of its panels
    #[arg(long, value_name = "N", group = "how_big", value_parser = whole::<u32>(1, u32::MAX))]
    pub(super) rounds: Option<u32>,
    /// Length of a finished edge
    #[arg(long, value_name = "MM", group = "how_big", value_parser = millimetres)]
    pub(super) edge: Option<f64>,
    /// Greatest width of the finished piece
    #[arg(long, value_name = "MM", group = "how_big", value_parser = millimetres)]
    pub(super) across: Option<f64>,
    /// Tetrahedra of a ring: an even number from 6
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = tetrahedra)]
    pub(super) tetrahedra: u16,
    /// Leave an opening that holds a round stone of this width
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) stone: Option<f64>,
    /// The name of the beads' size
    #[arg(long, value_name = "NAME")]
    pub(super) size: Option<String>,
    /// Diameter of your beads, as measured
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) diameter: Option<f64>,
    /// Length of your beads along the hole, as measured
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) length: Option<f64>,
    /// Width of their hole, as measured
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) hole: Option<f64>,
    /// How many of them weigh one gram
    #[arg(long, value_name = "N", value_parser = millimetres)]
    pub(super) per_gram: Option<f64>,
    /// A colour: its letter, name and colour value; the first is the main
    /// colour
    #[arg(long = "bead", value_name = "LETTER:NAME:#RRGGBB", value_parser = bead_colour)]
    pub(super) beads: Vec<crate::plan::draft::ColourAsk>,
    /// The thread, by its name
    #[arg(long, value_name = "NAME")]
    pub(super) thread: Option<String>,
    /// The needle, by its size
    #[arg(long, value_name = "SIZE", value_parser = whole::<u32>(1, u32::MAX))]
    pub(super) needle: Option<u32>,
    /// The title of the piece
    #[arg(long, value_name = "TITLE")]
    pub(super) title: Option<String>,
    /// The file to write; SHAPE.json if not given, - for standard output
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(super) force: bool,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Compare a count with what it should be
///
/// Says whether the number is right, and if not, what is most likely wrong and
/// where to look. Exit code 0 if it is right, 1 if it differs.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark check practice-triangle --job 1 --round 4 --count 12
  threadmark check evening-star --job lid --round 5 --sides 5,5,6
  threadmark check evening-star --job lid --round 5 --sides 5,5,6 --keep 41
  threadmark check practice-pair --job zip --count 2        the teeth of a zip")]
pub(super) struct CheckArgs {
    #[command(flatten)]
    pub(super) of: PatternOrPieceArg,
    /// The job: its number from 1, its title or a part of the title
    #[arg(long, value_name = "J")]
    pub(super) job: String,
    /// The round, from 1 at the middle; not needed for a join row or a zip
    ///
    /// Join rows, and the teeth of a zip, are the round after the last.
    #[arg(long, value_name = "R", value_parser = whole::<u32>(1, u32::MAX))]
    pub(super) round: Option<u32>,
    /// The beads counted in the round, or on each side as in --sides
    #[arg(long, value_name = "N", required_unless_present = "sides", value_parser = counted)]
    pub(super) count: Option<Counts>,
    /// The beads counted on each side, in working direction
    #[arg(long, value_name = "A,B,C", value_parser = counted)]
    pub(super) sides: Vec<Counts>,
    /// Keep the difference in a piece as stitched, in the gap that this step
    /// worked
    #[arg(long, value_name = "STEP", value_parser = whole::<u32>(1, u32::MAX))]
    pub(super) keep: Option<u32>,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Find a lost place by asking what lies on the mat
///
/// Asks a few questions about what can be seen and counted. A wrong answer
/// costs more questions, and ? means that you cannot tell. It ends with one
/// step, or with a few that look the same, and says what should lie on the mat,
/// so that you can compare.
///
/// Answers are read from standard input, one on each line. With --json the
/// questions go to standard error and the result to standard output. Exit code
/// 0 if a place was found, 1 if not.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark locate evening-star
  threadmark locate practice-triangle --json < answers.txt")]
pub(super) struct LocateArgs {
    /// A piece of the tray, a pattern file, or the name of a pattern that comes with the program
    #[arg(value_name = "PIECE or PATTERN", add = ArgValueCompleter::new(completion::pieces_and_patterns))]
    pub(super) name: String,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// Print the pieces of the tray; rename, export, import or put away a piece
///
/// The piece worked on last comes first. Nothing is ever deleted: a piece that
/// is put away can be brought back.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark pieces
  threadmark pieces --tray ~/beads --json
  threadmark pieces rename first-sail 'Key tag for Anna'
  threadmark pieces export evening-star       writes evening-star.piece
  threadmark pieces import evening-star.piece
  threadmark pieces put-away evening-star
  threadmark pieces --away                      the pieces that are put away
  threadmark pieces bring-back evening-star")]
pub(super) struct PiecesArgs {
    #[command(subcommand)]
    pub(super) action: Option<PiecesAction>,
    /// Print the pieces that are put away instead
    #[arg(long)]
    pub(super) away: bool,
    #[command(flatten)]
    pub(super) json: JsonOption,
}

/// An action on a piece of the tray.
#[derive(Debug, Subcommand)]
pub(super) enum PiecesAction {
    /// Give a piece another name
    Rename {
        #[command(flatten)]
        piece: PieceArg,
        /// The new name
        #[arg(value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
        name: String,
    },
    /// Write a piece, with all its progress, to one file
    Export {
        #[command(flatten)]
        piece: PieceArg,
        /// The file to write; PIECE.piece if not given, - for standard output
        #[arg(short, long, value_name = "FILE")]
        output: Option<PathBuf>,
        /// Replace an existing file
        #[arg(long)]
        force: bool,
    },
    /// Add a piece to the tray from a file made by `export`, after checking all
    /// of it
    Import {
        /// The file
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
    /// Show the days on which a piece was worked on, as a small chart
    Days {
        #[command(flatten)]
        piece: PieceArg,
    },
    /// Put a piece away, out of the tray
    PutAway {
        #[command(flatten)]
        piece: PieceArg,
    },
    /// Bring back a piece that was put away
    BringBack {
        /// The piece, by the name that `threadmark pieces --away` shows
        #[arg(value_name = "PIECE", add = ArgValueCompleter::new(completion::away))]
        piece: String,
    },
}

/// Print the man page, or completions for a shell
///
/// Both are made from the same definitions as this help. Completions know the
/// commands, their options, and the names of patterns and pieces; they call
/// `threadmark`, which must be on the path.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  threadmark manual --to man | man -l -
  threadmark manual --to bash > ~/.local/share/bash-completion/completions/threadmark
  threadmark manual --to zsh > ~/.zfunc/_threadmark     in a directory of your fpath
  threadmark manual --to fish > ~/.config/fish/completions/threadmark.fish
  threadmark manual --to powershell >> $PROFILE")]
pub(super) struct ManualArgs {
    /// What to print
    #[arg(long, value_name = "WHAT", value_enum, default_value_t)]
    pub(super) to: ManualKind,
}

/// The format of the manual.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum ManualKind {
    /// A man page
    #[default]
    Man,
    /// Completions for bash
    Bash,
    /// Completions for zsh
    Zsh,
    /// Completions for fish
    Fish,
    /// Completions for PowerShell
    Powershell,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_definitions_are_consistent() {
        Cli::command().debug_assert();
    }

    #[test]
    fn every_command_shows_an_example() {
        for command in Cli::command().get_subcommands() {
            let name = command.get_name();
            let help = command.get_after_help().map(ToString::to_string);
            let wanted = format!("threadmark {name}");
            assert!(help.is_some_and(|h| h.contains(&wanted)), "{name}");
        }
    }
}
