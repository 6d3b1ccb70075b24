//! What the engine is asked behind the review screen, so that keys go on working.

use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::{App, AttemptId, ObjectionAnswer, SolutionCheck};
use crate::attempt::Origin;
use crate::text;

/// What the engine is asked behind the screen.
#[derive(Default)]
pub struct EngineRequests {
    doubt: Option<Receiver<Result<ObjectionAnswer, String>>>,
    proof: Option<Receiver<Result<SolutionCheck, String>>>,
    /// Answers to his lines, or why there is none.
    pub(crate) answered: Vec<Result<ObjectionAnswer, String>>,
    /// What the judge says of the published solution.
    pub(crate) proved: Option<Result<SolutionCheck, String>>,
}

impl EngineRequests {
    pub(crate) fn is_asking(&self) -> bool {
        self.doubt.is_some()
    }

    pub(crate) fn is_proving(&self) -> bool {
        self.proof.is_some()
    }

    /// A line that is held against the review: it is answered by a line.
    pub(crate) fn ask(&mut self, app: &App, id: AttemptId, line: String) {
        let (app, (tell, hear)) = (app.clone(), channel());
        thread::spawn(move || {
            let answer = app.reviews().answer(&id, &line).map_err(|e| e.to_string());
            // The screen may be gone by then.
            let _ = tell.send(answer);
        });
        self.doubt = Some(hear);
    }

    /// Asks once whether the judge agrees with the published solution.
    pub(crate) fn ask_for_proof(&mut self, app: &App, origin: &Origin) {
        if self.proof.is_some() || matches!(self.proved, Some(Ok(_))) {
            return;
        }
        let Origin::Drill(id) = origin else {
            return;
        };
        let Some(drill) = app.drills().find(id).ok().map(|(_, drill)| drill.clone()) else {
            return;
        };
        let (app, (tell, hear)) = (app.clone(), channel());
        let locale = text::chosen();
        thread::spawn(move || {
            let proved = text::within(locale, || app.drills().prove(&drill));
            let proved = proved.map_err(|e| e.to_string());
            // The screen may be gone by then.
            let _ = tell.send(proved);
        });
        self.proof = Some(hear);
    }

    /// Takes up what has come.
    pub(crate) fn listen(&mut self) -> Arrived {
        let doubt = come(&mut self.doubt);
        let proof = come(&mut self.proof);
        let arrived = Arrived {
            answer: doubt.is_some(),
            proof: proof.is_some(),
        };
        self.answered.extend(doubt);
        if proof.is_some() {
            self.proved = proof;
        }
        arrived
    }
}

/// What has come since it was looked for last.
pub(crate) struct Arrived {
    pub(crate) answer: bool,
    pub(crate) proof: bool,
}

/// What has come through a channel; a thread that ended without an answer says so.
fn come<T>(from: &mut Option<Receiver<Result<T, String>>>) -> Option<Result<T, String>> {
    let got = match from.as_ref()?.try_recv() {
        Ok(got) => got,
        Err(TryRecvError::Empty) => return None,
        Err(TryRecvError::Disconnected) => Err(tr!("the engine gave no answer").to_owned()),
    };
    *from = None;
    Some(got)
}
