//! Statistics of agreement against scikit-learn, statsmodels, pingouin and krippendorff, recorded
//! with their versions by `fixtures/agreement.py`.

use serde_json::Value;
use stillcall::practice::statistics::{
    AlphaScale, Interval, IntraclassForm, Square, Weights, alpha, exact, fleiss, intraclass, kappa,
    lean, wilson,
};

fn recorded(key: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(include_str!("fixtures/agreement.json")).unwrap();
    let cases = all[key].as_array().unwrap().clone();
    assert!(cases.len() >= 3, "{key}");
    cases
}

fn numbers(of: &Value) -> Vec<f64> {
    of.as_array().unwrap().iter().filter_map(Value::as_f64).collect()
}

fn counts(of: &Value) -> Vec<Vec<usize>> {
    let row = |row: &Value| numbers(row).iter().map(|n| *n as usize).collect();
    of.as_array().unwrap().iter().map(row).collect()
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} is not {expected}");
}

fn ends(found: Interval, expected: &[f64], slack: f64) {
    near(found.low, expected[0], slack);
    near(found.high, expected[1], slack);
}

#[test]
fn kappas_are_those_of_scikit_learn_and_their_errors_those_of_statsmodels() {
    for case in recorded("two_people") {
        let rows = counts(&case["table"]);
        let table = Square::new(&rows.iter().map(Vec::as_slice).collect::<Vec<_>>()).unwrap();
        for (key, weights) in [
            ("kappa", Weights::Plain),
            ("linear", Weights::Linear),
            ("quadratic", Weights::Quadratic),
        ] {
            let (found, expected) = (kappa(&table, weights).unwrap(), numbers(&case[key]));
            near(found.value, expected[0], 1e-12);
            near(found.standard_error, expected[1], 1e-12);
            if let Some(by_chance) = expected.get(2) {
                near(found.standard_error_by_chance, *by_chance, 1e-12);
            }
        }
    }
}

#[test]
fn answers_of_many_people_are_those_of_statsmodels_and_krippendorff() {
    for case in recorded("many_people") {
        let found = fleiss(&counts(&case["counts"])).unwrap();
        near(found.value, case["fleiss"].as_f64().unwrap(), 1e-12);
        let items: Vec<Vec<f64>> = case["gaps"].as_array().unwrap().iter().map(numbers).collect();
        let scales =
            [AlphaScale::Nominal, AlphaScale::Ordinal, AlphaScale::Interval, AlphaScale::Ratio];
        for (scale, expected) in scales.into_iter().zip(numbers(&case["alpha"])) {
            near(alpha(&items, scale).unwrap(), expected, 1e-12);
        }
    }
}

/// pingouin rounds its intervals to two decimals.
#[test]
fn correlations_of_values_are_those_of_pingouin() {
    for case in recorded("values") {
        let rows: Vec<Vec<f64>> = case["rows"].as_array().unwrap().iter().map(numbers).collect();
        let [values, low, high] = ["icc", "low", "high"].map(|key| numbers(&case[key]));
        for (place, form) in
            [IntraclassForm::OwnPeople, IntraclassForm::Agreement, IntraclassForm::Consistency]
                .into_iter()
                .enumerate()
        {
            let found = intraclass(&rows, form).unwrap();
            near(found.single, values[place], 1e-9);
            near(found.mean, values[place + 3], 1e-9);
            ends(found.single_interval, &[low[place], high[place]], 0.005_001);
            ends(found.mean_interval, &[low[place + 3], high[place + 3]], 0.005_001);
        }
    }
}

#[test]
fn shares_and_leanings_are_those_of_statsmodels() {
    for case in recorded("shares") {
        let [hits, of] = ["hits", "of"].map(|key| case[key].as_u64().unwrap() as usize);
        ends(wilson(hits, of).unwrap().interval.0.unwrap(), &numbers(&case["wilson"]), 1e-12);
        ends(exact(hits, of).unwrap().interval.0.unwrap(), &numbers(&case["exact"]), 1e-10);
    }
    for case in recorded("lean") {
        let case = numbers(&case);
        near(lean(case[0] as usize, case[1] as usize).unwrap(), case[2], 1e-12);
    }
}
