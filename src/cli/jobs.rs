//! Finds a job by its number, its title, or a part of the title.

use super::failure::Failure;
use crate::beadwork::{Job, Sequence};

/// The job that `wanted` names. A whole title is preferred to a part of one;
/// upper and lower case are the same.
///
/// # Errors
/// No job has that name, or several have.
pub(super) fn find(seq: &Sequence, wanted: &str) -> Result<Job, Failure> {
    let wanted = wanted.trim();
    let none = || {
        let jobs = numbered(seq, &all(seq).collect::<Vec<_>>());
        Failure::new(
            format!("the piece has no job '{wanted}'"),
            format!("give a number from 1 or a part of a title: {jobs}"),
        )
    };
    if let Ok(number) = wanted.parse::<usize>() {
        return match number.checked_sub(1).filter(|&at| at < seq.jobs().len()) {
            Some(at) => Ok(Job(at as u16)),
            None => Err(none()),
        };
    }
    let title = |job: &Job| seq.job(*job).title.to_lowercase();
    let wanted_title = wanted.to_lowercase();
    if wanted_title.is_empty() {
        return Err(none());
    }
    let whole: Vec<Job> = all(seq).filter(|job| title(job) == wanted_title).collect();
    let found = match whole.is_empty() {
        true => all(seq)
            .filter(|job| title(job).contains(&wanted_title))
            .collect(),
        false => whole,
    };
    match found[..] {
        [job] => Ok(job),
        [] => Err(none()),
        _ => Err(Failure::new(
            format!("'{wanted}' is in the titles of {} jobs", found.len()),
            format!("give the number of one: {}", numbered(seq, &found)),
        )),
    }
}

fn all(seq: &Sequence) -> impl Iterator<Item = Job> + '_ {
    (0..seq.jobs().len()).map(|at| Job(at as u16))
}

/// A list of jobs with their numbers, cut if it is long.
fn numbered(seq: &Sequence, jobs: &[Job]) -> String {
    const MOST: usize = 12;
    let name = |job: &Job| format!("{job} {}", seq.job(*job).title);
    let names: Vec<String> = jobs.iter().take(MOST).map(name).collect();
    match jobs.len() {
        n if n > MOST => format!("{}, and {} more", names.join(", "), n - MOST),
        _ => names.join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    fn found(wanted: &str) -> Result<u32, String> {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::Fill));
        let found = find(&seq, wanted).map(Job::number);
        found.map_err(|failure| failure.to_string())
    }

    #[test]
    fn a_job_is_named_by_number_title_or_a_part_of_it() {
        assert_eq!(found("2"), Ok(2));
        assert_eq!(found("face 1"), Ok(1));
        let last = found("fill").unwrap();
        assert_eq!(found(&last.to_string()), Ok(last));
    }

    #[test]
    fn a_part_of_several_titles_lists_their_jobs() {
        let said = found("join row").unwrap_err();
        assert!(
            said.starts_with("error: 'join row' is in the titles of "),
            "{said}"
        );
        assert!(
            said.contains("\n  mend: give the number of one: 2 Join row on Face 1"),
            "{said}"
        );
    }

    #[test]
    fn a_long_list_of_jobs_is_cut() {
        let seq = Sequence::new(testing::solid(Solid::Octahedron, 4, Closing::Fill));
        let said = find(&seq, "lid").unwrap_err().to_string();
        let more = seq.jobs().len() - 12;
        assert!(
            more > 0 && said.ends_with(&format!(", and {more} more")),
            "{said}"
        );
    }

    #[test]
    fn an_unknown_job_lists_the_jobs() {
        for wanted in ["0", "99", "lid", ""] {
            let said = found(wanted).unwrap_err();
            assert!(
                said.contains("mend: give a number from 1 or a part of a title: 1 Face 1, "),
                "{said}"
            );
        }
    }
}
