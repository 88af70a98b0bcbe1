//! What is painted, written to a pattern file when the maker says so.

use crate::atomic_file;
use crate::beadwork::paint::Part;
use crate::beadwork::project::SpecIndex;
use crate::pattern::paint;
use crate::plain_file;
use crate::screen::session::Session;
use std::fs;
use std::io;
use std::path::Path;

impl Session {
    /// What was painted and fits.
    pub fn painted_parts(&self) -> Vec<(SpecIndex, Part)> {
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
    pub fn is_written(&self, parts: &[(SpecIndex, Part)]) -> bool {
        let Some(bytes) = self.piece.source().and_then(|path| read(path).ok()) else {
            return false;
        };
        let project = self.seq.layout().project();
        let again = paint::rewritten("", &bytes, project, parts);
        again.is_ok_and(|again| again == bytes)
    }

    /// Writes it to a file that is there, or to a new one; whether anything
    /// changed.
    ///
    /// # Errors
    /// The file cannot be read, changed or written.
    pub fn write_paint_to(&self, path: &Path, there: bool) -> Result<bool, String> {
        let old = match there {
            true => read(path).map_err(|error| error.to_string())?,
            false => self.piece.pattern().to_vec(),
        };
        let project = self.seq.layout().project();
        let name = path.display().to_string();
        let new = paint::rewritten(&name, &old, project, &self.painted_parts());
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
