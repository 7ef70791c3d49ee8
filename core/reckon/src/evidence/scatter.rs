//! How each shooter scatters with this bow.

use crate::group::Group;
use crate::scatter::PooledScatter;

use super::{Seen, Shot, TrialEvidence, canonical};

/// Scatter of arrows and tears, pooled per shooter over every trial of the bow.
#[derive(Debug, Clone)]
pub(crate) struct Scatter {
    shooters: Vec<(Option<String>, PooledScatter)>,
    prior: PooledScatter,
}

impl Scatter {
    /// Pools every trial, whatever was fitted: scatter does not ask what sits on the axles.
    pub(crate) fn of(trials: &[TrialEvidence]) -> Self {
        let mut seen: Vec<Seen> = trials.iter().map(|trial| Seen::new(trial, 0.0)).collect();
        canonical(&mut seen);
        let mut labels: Vec<&Option<String>> = seen.iter().map(|one| &one.trial.shooter).collect();
        labels.sort();
        labels.dedup();
        let shooters = labels
            .into_iter()
            .map(|label| {
                let own = seen.iter().filter(|one| one.trial.shooter == *label);
                (label.clone(), pooled(own.clone()))
            })
            .collect();
        Self {
            shooters,
            prior: PooledScatter::prior(),
        }
    }

    /// One shooter's scatter; what is usual where he has not shot.
    pub(crate) fn of_shooter(&self, label: &Option<String>) -> &PooledScatter {
        let found = self.shooters.iter().find(|(known, _)| known == label);
        found.map_or(&self.prior, |(_, scatter)| scatter)
    }
}

fn pooled<'s, 'a: 's>(seen: impl Iterator<Item = &'s Seen<'a>> + Clone) -> PooledScatter {
    let faces = seen.clone().filter_map(|one| match one.trial.shot {
        Shot::Face { distance_m, .. } => Some((one, distance_m)),
        Shot::Paper { .. } => None,
    });
    let groups: Vec<(&Group, f64)> = faces
        .flat_map(|(one, distance_m)| one.groups().iter().map(move |group| (group, distance_m)))
        .collect();
    let tears: Vec<_> = seen.map(Seen::tears).collect();
    PooledScatter::pooled(groups).with_tears(&tears)
}
