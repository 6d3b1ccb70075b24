//! Something that is worked out behind a screen, which shows how far it has come.

use std::sync::mpsc::{self, Receiver};
use std::thread;

use crate::app::{App, AppError, Step};
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// What is waited for.
pub(super) struct Waiting<T> {
    coming: Option<Receiver<Coming<T>>>,
    far: Option<Step>,
    pub(super) done: Option<Result<T, AppError>>,
}

enum Coming<T> {
    Step(Step),
    Done(Result<T, AppError>),
}

impl<T: Send + 'static> Waiting<T> {
    /// Begins the work.
    pub(super) fn begin(
        app: &App,
        work: impl FnOnce(&App, &mut dyn FnMut(Step)) -> Result<T, AppError> + Send + 'static,
    ) -> Self {
        let (send, receive) = mpsc::channel();
        let app = app.clone();
        thread::spawn(move || {
            // Nobody listens any more where the screen was left meanwhile.
            let mut step = |step| drop(send.send(Coming::Step(step)));
            let done = work(&app, &mut step);
            let _ = send.send(Coming::Done(done));
        });
        Self {
            coming: Some(receive),
            far: None,
            done: None,
        }
    }

    /// Something that is known already.
    #[cfg(test)]
    pub(super) fn over(value: T) -> Self {
        Self {
            coming: None,
            far: None,
            done: Some(Ok(value)),
        }
    }

    /// Takes what has come; true where that is the end of the work.
    pub(super) fn take(&mut self) -> bool {
        while let Some(came) = self.coming.as_ref().and_then(|c| c.try_recv().ok()) {
            match came {
                Coming::Step(step) => self.far = Some(step),
                Coming::Done(done) => {
                    self.done = Some(done);
                    self.coming = None;
                    return true;
                }
            }
        }
        false
    }

    /// What changes without a key.
    pub(super) fn time_text(&self) -> String {
        let far = self.far.map_or(0, |s| 100 * s.done / s.of.max(1));
        format!("{far} {}", self.done.is_some())
    }

    /// How far it has come, or why it failed; what it gave where it is done.
    pub(super) fn draw(&self, canvas: &mut Canvas) -> Option<&T> {
        match &self.done {
            None => {
                let far = self
                    .far
                    .map_or_else(String::new, |s| tr!(" {} of {} positions", s.done, s.of));
                let words = tr!("Going through the game ...{far}");
                canvas.put(4, 3, &words, TextStyle::PLAIN.bold());
                None
            }
            Some(Err(error)) => {
                let area = (4, 3, canvas.width() - 8, 6);
                canvas.put_wrapped(area, &error.to_string(), TextStyle::ALERT.bold());
                None
            }
            Some(Ok(value)) => Some(value),
        }
    }
}
