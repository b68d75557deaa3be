//! A sheet that no load combination enters, worked for every post: loads, shop
//! and field sheets.

use std::collections::BTreeMap;

use super::govern::GroupResult;
use super::{LOADS, facts, tributary};
use crate::diag::{Complaint, Complaints};
use crate::formula::Value;
use crate::job::Job;
use crate::quantity::{Dim, Unit};
use crate::sheet::{Bound, Context, Input, Library, Origin, Work, work};

/// The sheet worked once for each set of equal inputs, and all that is missing
/// for it.
pub fn work_each(job: &Job, library: &Library, name: &str) -> (Vec<GroupResult>, Complaints) {
    let mut groups: Vec<GroupResult> = Vec::new();
    let mut complaints = Complaints::new();
    let Some(root) = library.sheet(name) else {
        complaints.push(Complaint::new(format!("there is no sheet `{name}`")));
        return (groups, complaints);
    };
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    for (at, post) in job.posts.iter().enumerate() {
        let (mut inputs, more) = facts::inputs(root, job, post);
        complaints.extend(more);
        if name == LOADS {
            let place = tributary::place(&job.posts, at);
            inputs.extend(place.into_iter().map(|(name, value)| (name.to_string(), grid_input(value))));
        }
        let key = inputs.iter().map(|(name, (bound, _))| format!("{name} {:?}\n", bound.value)).collect::<String>();
        if let Some(group) = known.get(&key) {
            groups[*group].posts.push(at);
            continue;
        }
        let missing = |input: &Input| facts::missing(input, job, post);
        let context = Context { library, method: None, missing: &missing };
        let Work { worked, complaints: more } = work(root, inputs, &context);
        complaints.extend(more.into_iter().map(|complaint| facts::located(complaint, root, job, post)));
        known.insert(key, groups.len());
        groups.push(GroupResult::without_loads(groups.len() + 1, at, worked));
    }
    super::once(&mut complaints);
    (groups, complaints)
}

fn grid_input(value: Value) -> (Bound, Origin) {
    let unit = match &value {
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => Unit::simple("ft").unwrap_or_else(Unit::none),
        _ => Unit::none(),
    };
    let count = unit.name().is_empty();
    let bound = Bound { value, unit, varies: false, count, given: true, place: None };
    (bound, Origin::File("posts.csv, x and y".into()))
}
