//! Against trying every way.

#![allow(clippy::unwrap_used, reason = "a test may stop")]
use super::*;
use proptest::prelude::*;

/// Every way through the layers, tried one by one.
fn tried(layers: &[Layer], count: usize) -> Vec<Path> {
    let mut paths: Vec<(i64, usize, Vec<usize>)> = vec![(0, 0, Vec::new())];
    for layer in layers {
        paths = paths
            .iter()
            .flat_map(|(cost, changes, picks)| {
                layer
                    .choices
                    .iter()
                    .enumerate()
                    .filter_map(move |(at, choice)| {
                        let step = picks
                            .last()
                            .map_or(Some(0), |&last| layer.steps[last][at])?;
                        let picks = picks.iter().copied().chain([at]).collect();
                        Some((
                            cost + step + choice.cost,
                            changes + usize::from(choice.changed),
                            picks,
                        ))
                    })
            })
            .collect();
    }
    paths.retain(|(_, _, picks)| demands_met(layers, picks));
    paths.sort_by_cached_key(|(cost, changes, picks)| {
        let row = chords(layers, picks);
        let mut different = row.concat();
        different.sort_unstable();
        different.dedup();
        (*cost, *changes, different.len(), row)
    });
    let mut rows = HashSet::new();
    paths.retain(|(.., picks)| rows.insert(chords(layers, picks)));
    let path = |(cost, _, picks)| Path { cost, picks };
    paths.into_iter().take(count).map(path).collect()
}

fn demands_met(layers: &[Layer], picks: &[usize]) -> bool {
    let (mut different, mut apart, mut changes) = (0, 0, 0);
    layers.iter().zip(picks).all(|(layer, &pick)| {
        let choice = &layer.choices[pick];
        different += choice.different;
        apart += choice.apart;
        changes += usize::from(choice.changed);
        layer.demand.is_none_or(|demand| {
            let met =
                different >= demand.different && apart >= demand.apart && changes <= demand.changes;
            (different, apart, changes) = (0, 0, 0);
            met
        })
    })
}

prop_compose! {
    fn any_choice()(cost in 0..6_i64, changed: bool, different in 0..4_usize, apart in 0..3_usize, chord in 0..7_u16) -> Choice {
        Choice { cost: cost * 100, changed, different, apart, chords: vec![chord] }
    }
}

prop_compose! {
    fn any_layer()(
        choices in prop::collection::vec(any_choice(), 4),
        steps in prop::collection::vec(prop::collection::vec(prop::option::weighted(0.8, -2..4_i64), 4), 4),
        demand in prop::option::weighted(0.3, (0..6_usize, 0..4_usize, 1..4_usize)),
    ) -> Layer {
        Layer {
            choices,
            steps: steps.into_iter().map(|row| row.into_iter().map(|s| s.map(|s| s * 50)).collect()).collect(),
            demand: demand.map(|(different, apart, changes)| Demand { different, apart, changes }),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn finds_what_trying_everything_finds(mut layers in prop::collection::vec(any_layer(), 1..5), count in 1..12_usize) {
        let last = layers.last_mut().unwrap();
        last.demand = last.demand.or(Some(Demand { different: 2, apart: 1, changes: 3 }));
        let found = cheapest(&layers, count, &|| false).unwrap();
        let expected = tried(&layers, count);
        let rows = |paths: &[Path]| -> Vec<_> { paths.iter().map(|p| (p.cost, chords(&layers, &p.picks))).collect() };
        prop_assert_eq!(rows(&found), rows(&expected));
    }

    #[test]
    fn those_that_differ_cost_what_they_cost(mut layers in prop::collection::vec(any_layer(), 1..5), count in 1..6_usize) {
        let last = layers.last_mut().unwrap();
        last.demand = last.demand.or(Some(Demand { different: 2, apart: 1, changes: 3 }));
        let found = varied(&layers, count, (4, 500), &|| false).unwrap();
        for path in cheapest(&layers, count, &|| false).unwrap() {
            prop_assert!(found.contains(&path));
        }
        prop_assert!(found.is_sorted_by_key(|path| path.cost));
        let rows: HashSet<_> = found.iter().map(|path| chords(&layers, &path.picks)).collect();
        prop_assert_eq!(rows.len(), found.len());
        for path in &found {
            prop_assert!(demands_met(&layers, &path.picks));
            let steps = path.picks.windows(2).zip(layers.iter().skip(1));
            let steps: i64 = steps.map(|(two, layer)| layer.steps[two[0]][two[1]].unwrap()).sum();
            let own: i64 = path.picks.iter().zip(&layers).map(|(&pick, layer)| layer.choices[pick].cost).sum();
            prop_assert_eq!(path.cost, steps + own);
        }
    }
}

#[test]
fn a_search_can_be_stopped() {
    let layer = Layer {
        choices: vec![Choice {
            cost: 0,
            changed: false,
            different: 0,
            apart: 0,
            chords: vec![0],
        }],
        steps: vec![vec![Some(0)]],
        demand: Some(Demand {
            different: 0,
            apart: 0,
            changes: 0,
        }),
    };
    assert_eq!(cheapest(&[layer], 1, &|| true), None);
}
