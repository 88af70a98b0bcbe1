//! Going to a place, as a maker types it: `120`, `j3`, `r5`, `j3 r5`.

use super::menu::Prompt;
use crate::beadwork::{Job, Round, Sequence, Step};
use crate::screen::layer::{Flow, Keys, Opener, key_table, opener};
use crate::screen::session::Session;
use crate::screen::widgets::TextEntry;

pub const OPENER: Opener<Session> = opener!(Session; "go to" "g" ["g go to"] "go to a step (a number), a job (j3) or a round (r5, j3 r5)" |_, _| open(); || GO_TO);

const GO_TO: &Keys = &key_table!("Going to a place"; go "Enter" ["Enter done"] "go there");

fn open() -> Flow<Session> {
    let found = |session: &Session, typed: &str| find(&session.seq, typed, session.job());
    let asks = move |session: &Session, typed: &str| match found(session, typed) {
        Ok(step) => {
            let (seq, job) = (&session.seq, session.seq.job_of(step));
            let say = seq.step(step).map_or(String::new(), |m| seq.say(&m));
            let title = &seq.job(job).title;
            ("Go to:", format!("step {step}, job {job} ({title}): {say}"))
        }
        Err(why) => ("Go to:", why),
    };
    let go = move |session: &mut Session, typed: &str| {
        let step = found(session, typed);
        Ok(step.map_or(Flow::Stay, |step| session.jump(step)))
    };
    Flow::open(Prompt::new(GO_TO, TextEntry::text(40), asks, go))
}

/// The step for a typed place; `here` is the job in which a round without a job
/// is looked up.
///
/// # Errors
/// What to type, or what there is not.
pub fn find(seq: &Sequence, typed: &str, here: Job) -> Result<Step, String> {
    let (mut step, mut job, mut round) = (None, None, None);
    let not_understood = || {
        let typed = typed.trim();
        format!("'{typed}' is no place: type 120 for a step, j3 for a job, r5 for a round")
    };
    for word in typed.to_ascii_lowercase().split_whitespace() {
        let digits = word.trim_start_matches(|c: char| c.is_ascii_alphabetic());
        let number: u32 = digits.parse().map_err(|_| not_understood())?;
        let what = &word[..word.len() - digits.len()];
        let slot = match what {
            "" | "s" | "step" => &mut step,
            "j" | "job" => &mut job,
            "r" | "round" => &mut round,
            _ => return Err(not_understood()),
        };
        if slot.replace(number).is_some() {
            return Err(not_understood());
        }
    }
    let (steps, jobs) = (seq.steps(), seq.jobs().len());
    let job = match job {
        Some(n) if n == 0 || n as usize > jobs => {
            return Err(format!("there is no job {n}: the piece has {jobs}"));
        }
        job => job.map(|n| Job((n - 1) as u16)),
    };
    match (step, job, round) {
        (Some(n), None, None) if n == 0 || n > steps => {
            Err(format!("there is no step {n}: the piece has {steps}"))
        }
        (Some(n), None, None) => Ok(Step(n)),
        (None, job, Some(round)) => round_of(seq, job.unwrap_or(here), round),
        (None, Some(job), None) => Ok(Step(seq.job(job).steps_before + 1)),
        (None, None, None) => Err("a step: 120   a job: j3   a round: r5   both: j3 r5".into()),
        _ => Err(not_understood()),
    }
}

/// The first step of a round in a job.
fn round_of(seq: &Sequence, job: Job, round: u32) -> Result<Step, String> {
    let info = seq.job(job);
    let steps = seq.iter_from(Step(info.steps_before + 1));
    let mut steps = steps.take(info.steps as usize);
    let found = steps.find(|m| m.round == Some(Round(round)));
    let found = found.map(|m| m.step);
    found.ok_or(format!("job {job} has no round {round}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::screen::proof;

    #[test]
    fn steps_jobs_and_rounds_are_found() {
        let seq = proof::tetrahedron(4, Closing::SetIn, 0);
        let go = |typed| find(&seq, typed, Job(0));
        assert_eq!(go("120"), Ok(Step(120)));
        assert_eq!(go(" J2 "), Ok(Step(seq.job(Job(1)).steps_before + 1)));
        let third = go("r3").unwrap();
        assert_eq!(seq.step(third).unwrap().round, Some(Round(3)));
        assert_ne!(seq.step(Step(third.0 - 1)).unwrap().round, Some(Round(3)));
        let both = go("j3 r2").unwrap();
        assert_eq!(seq.job_of(both), Job(2));
    }

    #[test]
    fn what_is_not_there_is_refused_with_what_is() {
        let seq = proof::panel(3, 4);
        let go = |typed| find(&seq, typed, Job(0)).unwrap_err();
        assert_eq!(
            go("9999"),
            format!("there is no step 9999: the piece has {}", seq.steps())
        );
        assert_eq!(go("j4"), "there is no job 4: the piece has 1");
        assert_eq!(go("r9"), "job 1 has no round 9");
        assert!(go("left a bit").contains("is no place"));
        assert!(go("j1 j1").contains("is no place"));
        assert!(go("99999999999").contains("is no place"));
        assert!(go("12é").contains("is no place"));
        assert!(go("").starts_with("a step"));
    }
}
