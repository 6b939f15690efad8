//! How long a judgement takes: sixteen cylinders, everything read, three of them sick.

#[path = "../tests/judgement/support.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod support;

use std::hint::black_box;

use borespoke_core::engine::Layout;
use borespoke_core::judgement::{judge, weigh};
use borespoke_core::record::AirExit;
use criterion::{Criterion, criterion_group, criterion_main};

use support::Bench;

fn sixteen() -> Bench {
    let layout = Layout::new(vec![(1..=8).collect(), (9..=16).collect()]).expect("a layout");
    let order = (1..=16).map(|n| n.to_string()).collect::<Vec<_>>().join("-");
    let sick = [(3, 95.0, 98.0, 55.0), (7, 104.0, 137.0, 38.0), (12, 118.0, 119.0, 30.0)];
    let mut bench = Bench::new(&order, Some(layout));
    for number in 1..=16 {
        let healthy = (number, 150.0 - f64::from(number % 5), 155.0, 6.0 + f64::from(number % 4));
        let (_, dry, wet, leak) = *sick.iter().find(|s| s.0 == number).unwrap_or(&healthy);
        bench = bench.dry_one(number, dry).wet(number, wet).leak(number, leak);
        bench = bench.air(number, AirExit::OilFiller);
    }
    bench
}

fn judgement(criterion: &mut Criterion) {
    let bench = sixteen();
    let (job, log) = (&bench.job, &bench.log);
    criterion.bench_function("judgement without next steps, 16 cylinders", |b| {
        b.iter(|| weigh(black_box(job), black_box(log)));
    });
    criterion.bench_function("judgement with next steps, 16 cylinders", |b| {
        b.iter(|| judge(black_box(job), black_box(log)));
    });
}

criterion_group!(benches, judgement);
criterion_main!(benches);
