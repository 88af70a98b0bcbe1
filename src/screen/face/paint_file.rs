//! Writes what is painted to a pattern file, when the maker asks for it.

use crate::atomic_file;
use crate::beadwork::Project;
use crate::beadwork::colour::Colours;
use crate::beadwork::paint::Part;
use crate::beadwork::project::SpecIndex;
use crate::pattern::paint;
use crate::plain_file;
use crate::screen::session::Session;
use std::fs;
use std::io;
use std::path::Path;

impl Session {
    /// The pattern with the beads and the colours that a panel begun now would
    /// have.
    fn as_meant(&self) -> Project {
        let mut project = Project::clone(&self.seq.layout().shared_project());
        let goal = self.seq.goal();
        project.beads = goal.beads.to_vec();
        for (spec, colours) in project.panels.iter_mut().zip(&goal.colours) {
            spec.colours = Colours::clone(colours);
        }
        project
    }

    /// The parts of panels that are planned differently from the pattern.
    pub fn painted_parts(&self) -> Vec<(SpecIndex, Part)> {
        paint::differing(&self.seq.layout().shared_project(), &self.as_meant())
    }

    /// Whether the pattern file from which the piece was begun already has
    /// them.
    pub fn is_written(&self, parts: &[(SpecIndex, Part)]) -> bool {
        let Some(bytes) = self.piece.source().and_then(|path| read(path).ok()) else {
            return false;
        };
        let again = paint::rewritten("", &bytes, &self.as_meant(), parts);
        again.is_ok_and(|again| again == bytes)
    }

    /// Writes it to an existing file, or to a new one; returns whether anything
    /// changed.
    ///
    /// # Errors
    /// The file cannot be read, changed or written.
    pub fn write_paint_to(&self, path: &Path, there: bool) -> Result<bool, String> {
        let old = match there {
            true => read(path).map_err(|error| error.to_string())?,
            false => self.piece.pattern().to_vec(),
        };
        let name = path.display().to_string();
        let new = paint::rewritten(&name, &old, &self.as_meant(), &self.painted_parts());
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

/// Whether two paths lead to the same file.
pub fn same(a: &Path, b: &Path) -> bool {
    let whole = |path: &Path| fs::canonicalize(path).ok();
    whole(a).is_some() && whole(a) == whole(b)
}
