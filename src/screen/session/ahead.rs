//! The next frame of the stitches, drawn while nobody types: a maker who made a
//! movement usually makes the next, and should not wait for its picture.

use super::Session;
use crate::progress::Moment;
use crate::screen::event::Input;
use crate::screen::layers::Stitches;
use crate::screen::stack::Stack;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event::KeyEvent;
use ratatui::layout::Rect;

impl Session {
    /// How the stitches will look after this key; `None` if it does not move
    /// the work, or if a movement could not be saved.
    pub fn frame_after(&self, key: KeyEvent, area: Rect) -> Option<Buffer> {
        if self.trouble.is_some() {
            return None;
        }
        let mut session = self.in_memory_as_now();
        let mut stack = Stack::new(Stitches);
        stack.handle(&mut session, Input::Key(key), Moment::now());
        let moves = session.done() != self.done();
        moves.then(|| {
            let mut frame = Buffer::empty(area);
            stack.draw(&mut session, area, &mut frame);
            frame
        })
    }
}
