//! dev
use threadmark::{beadwork::Sequence, pattern, progress::*, screen};
fn main() {
    let args: Vec<String> = std::env::args().collect();
    let tray = Tray::open(std::path::Path::new(&args[1]));
    let options = screen::Options::default();
    let load = |bytes: &[u8]| {
        let p = pattern::read("x", bytes).map_err(|e| e.to_string())?;
        Ok::<_, String>((p.title, Sequence::new(p.project)))
    };
    if args[2] == "tray" {
        let mut files: Vec<_> = std::fs::read_dir("/work/main/patterns")
            .unwrap()
            .flatten()
            .map(|e| e.path())
            .collect();
        files.sort();
        let offers: Vec<_> = files
            .iter()
            .map(|f| {
                let p = pattern::load(f).unwrap();
                screen::PatternOffer {
                    title: p.title,
                    about: p.about.lines().next().unwrap_or("").into(),
                }
            })
            .collect();
        let r = screen::tray(&tray, &offers, &options, |c| match c {
            screen::Choice::Piece(n) => {
                let p = tray
                    .open_piece(&n, Mode::Work, Moment::now())
                    .map_err(|e| e.to_string())?;
                let (_, s) = load(p.pattern())?;
                Ok((s, p))
            }
            screen::Choice::Pattern(i) => {
                let b = std::fs::read(&files[i]).unwrap();
                let (t, s) = load(&b)?;
                let p = tray
                    .begin(&t, &b, Some(&files[i]), s.steps(), Moment::now())
                    .map_err(|e| e.to_string())?;
                Ok((s, p))
            }
        });
        println!("{r:?}");
        return;
    }
    let bytes = std::fs::read(&args[2]).unwrap();
    let (t, seq) = load(&bytes).unwrap();
    let name = t.to_lowercase().replace(' ', "-");
    let piece = match tray.open_piece(&name, Mode::Work, Moment::now()) {
        Ok(p) => p,
        Err(_) => tray
            .begin(&t, &bytes, None, seq.steps(), Moment::now())
            .unwrap(),
    };
    if args.get(3).is_some() {
        let r = screen::plain(seq, piece, std::io::stdin().lock(), std::io::stdout());
        eprintln!("{r:?}");
        return;
    }
    let r = screen::stitch(seq, piece, &options);
    println!("{r:?}");
}
