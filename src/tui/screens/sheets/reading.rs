//! The sheet read behind the screen: looking for slips of the pen can take some seconds, and nobody waits for it.

use std::sync::mpsc::{self, Receiver};
use std::thread;

use crate::games::sheet::{Fitted, Repair, Sheet, SheetDraft, fit};

/// What the sheet says as it stands.
#[derive(Default)]
pub struct SheetReading {
    coming: Option<Receiver<(Sheet, Fitted)>>,
    /// The last one that came, and whether it is of what stands there now.
    read: Option<(Sheet, Fitted)>,
}

impl SheetReading {
    /// Begins to read; what was being read is of no use any more.
    pub fn begin(&mut self, draft: &SheetDraft) {
        self.coming = None;
        let Some(sheet) = draft.sheet() else {
            self.read = None;
            return;
        };
        let (send, receive) = mpsc::channel();
        thread::spawn(move || {
            let fitted = fit(&sheet);
            // Nobody listens any more where something else was typed meanwhile.
            let _ = send.send((sheet, fitted));
        });
        self.coming = Some(receive);
    }

    /// Takes what has come; true where something has.
    pub fn take(&mut self) -> bool {
        let came = self.coming.as_ref().and_then(|c| c.try_recv().ok());
        let has = came.is_some();
        if let Some(read) = came {
            self.read = Some(read);
            self.coming = None;
        }
        has
    }

    /// True until what stands there is read.
    #[must_use]
    pub fn is_coming(&self) -> bool {
        self.coming.is_some()
    }

    /// What was read last.
    #[must_use]
    pub fn last(&self) -> Option<&(Sheet, Fitted)> {
        self.read.as_ref()
    }

    /// The ways to read the sheet as it stands now, the likeliest first. Of those that change the same on it there is one: which way
    /// a move is meant that stands there is left open, and told as a doubt.
    #[must_use]
    pub fn repairs(&self) -> Vec<&Repair> {
        let mut found: Vec<&Repair> = Vec::new();
        for repair in self.now().map_or(&[][..], |(_, f)| &f.repairs) {
            if found.iter().all(|r| r.slips != repair.slips) {
                found.push(repair);
            }
        }
        found
    }

    /// What is read of the sheet as it stands now.
    #[must_use]
    pub fn now(&self) -> Option<&(Sheet, Fitted)> {
        self.read.as_ref().filter(|_| !self.is_coming())
    }
}
