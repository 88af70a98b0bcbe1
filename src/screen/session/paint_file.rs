//! What is painted, written to a pattern file when the maker says so.

use super::{Pane, Session};
use crate::atomic_file;
use crate::beadwork::paint::Part;
use crate::beadwork::project::SpecIndex;
use crate::pattern::paint;
use crate::plain_file;
use crate::progress::PlainText;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

impl Session {
    /// What was painted and fits.
    pub(super) fn parts(&self) -> Vec<(SpecIndex, Part)> {
        let project = self.seq.layout().project();
        let painting = self.piece.state().painting();
        let part = |(panel, part, words): (&str, &str, &str)| {
            let spec = project.panels.iter().position(|spec| spec.name == panel)?;
            let part = Part::named(part)?;
            paint::coat(project, self.seq.layout().kind_of(spec), part, words)?;
            Some((spec, part))
        };
        painting.filter_map(part).collect()
    }

    /// Whether the pattern file that the piece was begun from says it already.
    pub(super) fn is_written(&self, parts: &[(SpecIndex, Part)]) -> bool {
        let Some(bytes) = self.piece.source().and_then(|path| read(path).ok()) else {
            return false;
        };
        let project = self.seq.layout().project();
        let again = paint::rewritten("", &bytes, project, parts);
        again.is_ok_and(|again| again == bytes)
    }

    pub(super) fn ask_where_to_write(&mut self) {
        if self.parts().is_empty() {
            self.said = "Nothing is painted that the pattern does not have.".into();
            return;
        }
        let typed = match self.piece.source() {
            Some(path) => path.to_string_lossy().into_owned(),
            None => format!("{}.json", self.piece.name()),
        };
        self.pane = Pane::WritePaint { typed, over: false };
    }

    /// Writes what is painted to the file that was typed.
    pub(super) fn write_paint(&mut self, typed: &str, over: bool) {
        let typed = typed.trim();
        if typed.is_empty() {
            self.said = "Type the name of a pattern file, such as star.json.".into();
            return;
        }
        let path = match self.piece.source() {
            // Its name may have letters that cannot be shown or typed.
            Some(own) if own.to_string_lossy() == typed => own.to_path_buf(),
            _ => PathBuf::from(typed),
        };
        let shown = PlainText::new(typed);
        let there = path.exists();
        let own = self.piece.source().is_some_and(|own| same(own, &path));
        if there && !own && !over {
            self.said = format!(
                "{shown} is there already. Enter again paints its panels and leaves all else in \
                 it as it is."
            );
            self.pane = Pane::WritePaint {
                typed: typed.into(),
                over: true,
            };
            return;
        }
        match self.written(&path, there) {
            Ok(true) => self.said = format!("Written to {shown}."),
            Ok(false) => self.said = format!("{shown} says so already."),
            Err(why) => {
                // It stays open, with the name as it was typed.
                let why = PlainText::new(&why);
                self.said = format!("Not written, and nothing is lost: {why}");
                return;
            }
        }
        self.face.brush.unsaved = false;
        self.pane = Pane::Face;
    }

    fn written(&self, path: &Path, there: bool) -> Result<bool, String> {
        let old = match there {
            true => read(path).map_err(|error| error.to_string())?,
            false => self.piece.pattern().to_vec(),
        };
        let project = self.seq.layout().project();
        let name = path.display().to_string();
        let new = paint::rewritten(&name, &old, project, &self.parts());
        let new = new.map_err(|why| why.to_string())?;
        if there && new == old {
            return Ok(false);
        }
        atomic_file::save(path, &new, there).map_err(|error| error.to_string())?;
        Ok(true)
    }
}

fn read(path: &Path) -> io::Result<Vec<u8>> {
    plain_file::read_up_to(plain_file::open(path)?, plain_file::PATTERN_BYTES)
}

fn same(a: &Path, b: &Path) -> bool {
    let whole = |path: &Path| fs::canonicalize(path).ok();
    whole(a).is_some() && whole(a) == whole(b)
}
