//! Statistics of agreement against the worked examples of the papers that brought them up.
//!
//! Ten digits are from independent libraries run on the papers' own data; the papers print two to
//! four of them.

use stillcall::practice::statistics::{
    AlphaScale, Interval, IntraclassForm, Square, Undefined, Weights, alpha, blaker, concordance,
    differences, exact, fleiss, intraclass, kappa, lean, limit_factors, repeatability, t_quantile,
    tolerance_factor, wilson, wilson_corrected,
};

/// As near as ten printed digits can say.
fn near(found: f64, expected: f64) {
    let slack = 6e-11 * expected.abs().max(1.0) * 10.0;
    assert!((found - expected).abs() <= slack, "{found} is not {expected}");
}

fn ends(found: Interval, low: f64, high: f64) {
    near(found.low, low);
    near(found.high, high);
}

fn square(rows: &[&[usize]]) -> Square {
    Square::new(rows).unwrap()
}

const COHEN: &[&[usize]] = &[&[88, 14, 18], &[10, 40, 10], &[2, 6, 12]];

/// Cohen 1960, Educ. Psychol. Meas. 20:37-46; errors by Fleiss, Cohen and Everitt 1969.
#[test]
fn cohen_1960() {
    let found = kappa(&square(COHEN), Weights::Plain).unwrap();
    near(found.observed, 0.70);
    near(found.by_chance, 0.41);
    near(found.value, 0.491_525_423_7);
    near(found.standard_error, 0.051_001_815_6);
    near(found.standard_error_by_chance, 0.051_978_936_4);
    // The paper's own, simpler forms follow from the same two shares.
    let (o, e, n) = (found.observed, found.by_chance, 200.0_f64);
    near((o * (1.0 - o) / n).sqrt() / (1.0 - e), 0.054_921_531_3);
    near((e / (n * (1.0 - e))).sqrt(), 0.058_945_536_5);
    assert!(!found.misleads);
}

/// Cohen 1968, Psychol. Bull. 70:213-220, and statsmodels and scikit-learn on an own table.
#[test]
fn cohen_1968_weighted() {
    let written = [0.0, 1.0, 3.0, 1.0, 0.0, 6.0, 3.0, 6.0, 0.0];
    let found = kappa(&square(COHEN), Weights::Disagreement(&written)).unwrap();
    near(found.value, 0.347_826_087_0);
    near((1.0 - found.observed) * 6.0, 0.90);
    near((1.0 - found.by_chance) * 6.0, 1.38);
    near(kappa(&square(COHEN), Weights::Linear).unwrap().value, 0.473_684_210_5);
    near(kappa(&square(COHEN), Weights::Quadratic).unwrap().value, 0.454_545_454_5);
    let four: &[&[usize]] = &[&[20, 4, 1, 0], &[3, 15, 5, 1], &[0, 4, 12, 3], &[0, 1, 2, 9]];
    for (weights, value, error) in [
        (Weights::Plain, 0.592_616_168_0, 0.069_595_334_8),
        (Weights::Linear, 0.710_144_927_5, 0.055_500_918_0),
        (Weights::Quadratic, 0.813_189_923_6, 0.046_053_774_7),
    ] {
        let found = kappa(&square(four), weights).unwrap();
        near(found.value, value);
        near(found.standard_error, error);
    }
    // Quadratic kappa is Lin's coefficient of the numbers of the categories.
    let pairs: Vec<(f64, f64)> = (0..16)
        .flat_map(|cell| vec![((cell / 4) as f64, (cell % 4) as f64); four[cell / 4][cell % 4]])
        .collect();
    let found = concordance(&pairs).unwrap();
    near(found.value, 0.813_189_923_6);
    near(found.correlation, 0.814_633_541_5);
}

/// Feinstein and Cicchetti 1990 (0.70 and 0.32), and textbook tables run through libraries.
#[test]
fn two_by_two_tables_and_the_warning() {
    let cases: [(&[&[usize]], [f64; 6]); 5] = [
        (
            &[&[40, 9], &[6, 45]],
            [0.85, 0.5008, 0.699_519_230_8, 0.071_393_602_7, 0.70, 0.700_748_129_7],
        ),
        (&[&[80, 10], &[5, 5]], [0.85, 0.78, 0.318_181_818_2, 0.133_456_521_2, 0.70, 0.808]),
        (&[&[20, 5], &[10, 15]], [0.70, 0.50, 0.4, 0.126_996_062_9, 0.40, f64::NAN]),
        (
            &[&[45, 15], &[25, 15]],
            [0.60, 0.54, 0.130_434_782_6, 0.098_661_537_6, 0.20, 0.266_055_045_9],
        ),
        (
            &[&[25, 35], &[5, 35]],
            [0.60, 0.46, 0.259_259_259_3, 0.077_159_731_7, 0.20, 0.207_920_792_1],
        ),
    ];
    for (rows, [observed, by_chance, value, error, even, ac1]) in cases {
        let found = kappa(&square(rows), Weights::Plain).unwrap();
        near(found.observed, observed);
        near(found.by_chance, by_chance);
        near(found.value, value);
        near(found.standard_error, error);
        near(found.even, even);
        if ac1.is_finite() {
            near(found.ac1, ac1);
        }
        // Only in the second do nearly all answers fall together: 175 of 200.
        assert_eq!(found.misleads, rows[0][0] == 80);
    }
    let found = kappa(&square(&[&[20, 5], &[10, 15]]), Weights::Plain).unwrap();
    // The large-sample interval of Fleiss, Cohen and Everitt follows from the error; ours does not.
    let normal = Interval::around(found.value, 1.959_963_984_540_054 * found.standard_error);
    ends(normal, 0.151_092_290_5, 0.648_907_709_5);
    // McNemar's exact test of the first table, by statsmodels.
    near(lean(9, 6).unwrap(), 0.607_238_769_5);
}

#[test]
fn what_is_undefined_says_why_in_words() {
    let one = kappa(&square(&[&[10, 0], &[0, 0]]), Weights::Plain);
    assert_eq!(one, Err(Undefined::OneCategory));
    assert_eq!(kappa(&square(&[&[10]]), Weights::Plain), Err(Undefined::OneCategory));
    assert_eq!(kappa(&square(&[&[0, 0], &[0, 0]]), Weights::Plain), Err(Undefined::Nothing));
    near(kappa(&square(&[&[7, 0], &[0, 3]]), Weights::Plain).unwrap().value, 1.0);
    assert_eq!(fleiss(&[vec![3, 0], vec![3, 0]]), Err(Undefined::OneCategory));
    assert_eq!(fleiss(&[vec![1, 0]]), Err(Undefined::OnePerson));
    assert_eq!(fleiss(&[vec![2, 0], vec![1, 0]]), Err(Undefined::Gaps));
    assert_eq!(
        alpha(&[vec![1.0, 1.0], vec![1.0]], AlphaScale::Nominal),
        Err(Undefined::OneCategory)
    );
    assert_eq!(alpha(&[vec![1.0]], AlphaScale::Nominal), Err(Undefined::OnePerson));
    assert_eq!(alpha(&[vec![1.0, f64::NAN]], AlphaScale::Nominal), Err(Undefined::Unusable));
    assert_eq!(differences(&[(1.0, 2.0)]), Err(Undefined::TooFew { needed: 2, found: 1 }));
    assert_eq!(
        intraclass(&[vec![1.0, 2.0]], IntraclassForm::Agreement).map(|_| ()),
        Err(Undefined::TooFew { needed: 2, found: 1 })
    );
    let flat = vec![vec![5.0, 5.0], vec![5.0, 5.0]];
    assert_eq!(intraclass(&flat, IntraclassForm::Agreement).map(|_| ()), Err(Undefined::NoSpread));
    assert_eq!(
        concordance(&[(1.0, 1.0), (1.0, 2.0), (1.0, 3.0)]).map(|_| ()),
        Err(Undefined::NoSpread)
    );
    assert_eq!(wilson(0, 0), Err(Undefined::Nothing));
    assert_eq!(lean(0, 0), Err(Undefined::Nothing));
    for why in
        [Undefined::Nothing, Undefined::OneCategory, Undefined::TooFew { needed: 2, found: 1 }]
    {
        let words = why.to_string();
        assert!(words.len() > 10 && !words.contains("NaN"), "{words}");
    }
}

/// Perfect agreement has an interval that is a number, whichever form.
#[test]
fn perfect_agreement_is_one() {
    let rows = vec![vec![1.0, 1.0, 1.0], vec![2.0, 2.0, 2.0], vec![4.0, 4.0, 4.0]];
    for form in [IntraclassForm::OwnPeople, IntraclassForm::Agreement, IntraclassForm::Consistency]
    {
        let found = intraclass(&rows, form).unwrap();
        assert_eq!((found.single, found.mean), (1.0, 1.0), "{form:?}");
        ends(found.single_interval, 1.0, 1.0);
    }
}

/// Fleiss 1971, Psychol. Bull. 76:378-382; the error by Fleiss, Nee and Landis 1979.
#[test]
fn fleiss_1971() {
    let rows: [[usize; 5]; 30] = [
        [0, 0, 0, 6, 0],
        [0, 3, 0, 0, 3],
        [0, 1, 4, 0, 1],
        [0, 0, 0, 0, 6],
        [0, 3, 0, 3, 0],
        [2, 0, 4, 0, 0],
        [0, 0, 4, 0, 2],
        [2, 0, 3, 1, 0],
        [2, 0, 0, 4, 0],
        [0, 0, 0, 0, 6],
        [1, 0, 0, 5, 0],
        [1, 1, 0, 4, 0],
        [0, 3, 3, 0, 0],
        [1, 0, 0, 5, 0],
        [0, 2, 0, 3, 1],
        [0, 0, 5, 0, 1],
        [3, 0, 0, 1, 2],
        [5, 1, 0, 0, 0],
        [0, 2, 0, 4, 0],
        [1, 0, 2, 0, 3],
        [0, 0, 0, 0, 6],
        [0, 1, 0, 5, 0],
        [0, 2, 0, 1, 3],
        [2, 0, 0, 4, 0],
        [1, 0, 0, 4, 1],
        [0, 5, 0, 1, 0],
        [4, 0, 0, 0, 2],
        [0, 2, 0, 4, 0],
        [1, 0, 5, 0, 0],
        [0, 0, 0, 0, 6],
    ];
    let found = fleiss(&rows.map(|row| row.to_vec())).unwrap();
    let shares =
        [0.144_444_444_4, 0.144_444_444_4, 0.166_666_666_7, 0.305_555_555_6, 0.238_888_888_9];
    for (share, expected) in found.shares.iter().zip(shares) {
        near(*share, expected);
    }
    near(found.observed, 0.555_555_555_6);
    near(found.by_chance, 0.219_938_271_6);
    near(found.value, 0.430_244_520_1);
    let by_category = [0.244_755_244_8, 0.244_755_244_8, 0.52, 0.471_127_272_7, 0.566_117_806_8];
    for (of_one, expected) in found.by_category.iter().zip(by_category) {
        near(of_one.unwrap(), expected);
    }
    near(found.standard_error_by_chance, 0.024_373_932_1);
    assert!((found.value / found.standard_error_by_chance - 17.651_83).abs() < 5e-6);
    // The simpler error of 1971 follows from the shares alone.
    let (n, m, e) = (30.0, 6.0, found.by_chance);
    let cubes: f64 = found.shares.iter().map(|p| p.powi(3)).sum();
    let spread = e - (2.0 * m - 3.0) * e * e + 2.0 * (m - 2.0) * cubes;
    near((2.0 / (n * m * (m - 1.0)) * spread).sqrt() / (1.0 - e), 0.027_503_120_2);
}

/// A second table of ten subjects and fourteen raters, published 0.210.
#[test]
fn fleiss_with_fourteen_raters() {
    let rows: [[usize; 5]; 10] = [
        [0, 0, 0, 0, 14],
        [0, 2, 6, 4, 2],
        [0, 0, 3, 5, 6],
        [0, 3, 9, 2, 0],
        [2, 2, 8, 1, 1],
        [7, 7, 0, 0, 0],
        [3, 2, 6, 3, 0],
        [2, 5, 3, 2, 2],
        [6, 5, 2, 1, 0],
        [0, 2, 2, 3, 7],
    ];
    let found = fleiss(&rows.map(|row| row.to_vec())).unwrap();
    near(found.observed, 0.378_021_978_0);
    near(found.by_chance, 0.212_755_102_0);
    near(found.value, 0.209_930_704_4);
}

/// Krippendorff's own example with gaps: published 0.743, 0.815, 0.849, 0.797.
#[test]
fn krippendorff_with_gaps() {
    let x = f64::NAN;
    let people = [
        [1., 2., 3., 3., 2., 1., 4., 1., 2., x, x, x],
        [1., 2., 3., 3., 2., 2., 4., 1., 2., 5., x, 3.],
        [x, 3., 3., 3., 2., 3., 4., 2., 2., 5., 1., x],
        [1., 2., 3., 3., 2., 4., 4., 1., 2., 5., 1., x],
    ];
    let items = by_item(&people.map(|row| row.to_vec()));
    for (scale, expected) in [
        (AlphaScale::Nominal, 0.743_421_052_6),
        (AlphaScale::Ordinal, 0.815_387_503_8),
        (AlphaScale::Interval, 0.849_107_142_9),
        (AlphaScale::Ratio, 0.797_402_774_7),
    ] {
        near(alpha(&items, scale).unwrap(), expected);
    }
}

/// Krippendorff's two further examples: binary, and three observers with many gaps.
#[test]
fn krippendorff_binary_and_sparse() {
    let a = [0., 1., 0., 0., 0., 0., 0., 0., 1., 0.];
    let b = [1., 1., 1., 0., 0., 1., 0., 0., 0., 0.];
    let items = by_item(&[a.to_vec(), b.to_vec()]);
    near(alpha(&items, AlphaScale::Nominal).unwrap(), 0.095_238_095_2);
    near(alpha(&items, AlphaScale::Interval).unwrap(), 0.095_238_095_2);
    let x = f64::NAN;
    let people = [
        [x, x, x, x, x, 3., 4., 1., 2., 1., 1., 3., 3., x, 3.],
        [1., x, 2., 1., 3., 3., 4., 3., x, x, x, x, x, x, x],
        [x, x, 2., 1., 3., 4., 4., x, 2., 1., 1., 3., 3., x, 4.],
    ];
    let items = by_item(&people.map(|row| row.to_vec()));
    for (scale, expected) in [
        (AlphaScale::Nominal, 0.691_358_024_7),
        (AlphaScale::Ordinal, 0.806_721_419_9),
        (AlphaScale::Interval, 0.810_844_892_9),
    ] {
        near(alpha(&items, scale).unwrap(), expected);
    }
}

fn by_item(people: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let of_item = |item: usize| -> Vec<f64> {
        people.iter().map(|row| row[item]).filter(|value| !value.is_nan()).collect()
    };
    (0..people[0].len()).map(of_item).collect()
}

/// Shrout and Fleiss 1979, Psychol. Bull. 86:420-428: .17, .29, .71, .44, .62, .91.
#[test]
fn shrout_and_fleiss_1979() {
    let rows: Vec<Vec<f64>> = [
        [9., 2., 5., 8.],
        [6., 1., 3., 2.],
        [8., 4., 6., 8.],
        [7., 1., 2., 6.],
        [10., 5., 6., 9.],
        [6., 2., 4., 7.],
    ]
    .iter()
    .map(|row| row.to_vec())
    .collect();
    let one = intraclass(&rows, IntraclassForm::OwnPeople).unwrap();
    near(one.single, 0.165_741_768_4);
    ends(one.single_interval, -0.132_932_324_9, 0.722_560_062_3);
    near(one.mean, 0.442_797_133_7);
    ends(one.mean_interval, -0.884_442_155_2, 0.912_415_420_3);
    let two = intraclass(&rows, IntraclassForm::Agreement).unwrap();
    near(two.single, 0.289_763_779_5);
    ends(two.single_interval, 0.018_786_513_4, 0.761_084_369_6);
    near(two.mean, 0.620_050_547_6);
    ends(two.mean_interval, 0.071_136_815_3, 0.927_232_040_2);
    near(two.standard_error, 2.502_776_236_3);
    near(two.detectable, 2.771_858_582 * 2.502_776_236_3);
    let three = intraclass(&rows, IntraclassForm::Consistency).unwrap();
    near(three.single, 0.714_840_714_8);
    ends(three.single_interval, 0.342_464_765_0, 0.945_858_260_0);
    near(three.mean, 0.909_315_542_4);
    ends(three.mean_interval, 0.675_674_713_8, 0.985_891_678_2);
    near(three.standard_error, 1.009_675_415_4);
    // The table of squares follows from these.
    let error = three.standard_error.powi(2);
    let between = error / (1.0 - three.mean);
    let within = between * (1.0 - one.mean);
    let judges = (two.standard_error.powi(2) - error) * 6.0 + error;
    near(error, 1.019_444_444_4);
    near(between, 11.241_666_666_7);
    near(within, 6.263_888_888_9);
    near(judges, 32.486_111_111_1);
    near(5.0 * between, 56.208_333_333_3);
    near(15.0 * error, 15.291_666_666_7);
    near(3.0 * judges, 97.458_333_333_3);
    near(5.0 * between + 3.0 * judges + 15.0 * error, 168.958_333_333_3);
    assert_eq!((two.items, two.people), (6, 4));
}

/// Peak flow in l/min by a large meter, twice, and a mini meter, twice: Bland and Altman 1986.
const PEAK_FLOW: [[f64; 4]; 17] = [
    [494., 490., 512., 525.],
    [395., 397., 430., 415.],
    [516., 512., 520., 508.],
    [434., 401., 428., 444.],
    [476., 470., 500., 500.],
    [557., 611., 600., 625.],
    [413., 415., 364., 460.],
    [442., 431., 380., 390.],
    [650., 638., 658., 642.],
    [433., 429., 445., 432.],
    [417., 420., 432., 420.],
    [656., 633., 626., 605.],
    [267., 275., 260., 227.],
    [478., 492., 477., 467.],
    [178., 165., 259., 268.],
    [423., 372., 350., 370.],
    [427., 421., 451., 443.],
];

fn columns(a: usize, b: usize) -> Vec<(f64, f64)> {
    PEAK_FLOW.iter().map(|row| (row[a], row[b])).collect()
}

/// Bland and Altman 1986, Lancet i:307-310.
#[test]
fn bland_and_altman_1986() {
    let found = differences(&columns(0, 2)).unwrap();
    assert_eq!(found.pairs, 17);
    near(found.bias, -2.117_647_058_8);
    near(found.deviation, 38.765_129_873_6);
    near(found.bias - 2.0 * found.deviation, -79.647_906_806_0);
    near(found.bias + 2.0 * found.deviation, 75.412_612_688_4);
    ends(found.limits, -78.097_301_611_1, 73.862_007_493_4);
    near(found.standard_error, 9.401_925_003_5);
    near(t_quantile(16.0), 2.119_905_299_2);
    ends(found.bias_interval.0.unwrap(), -22.048_837_696_6, 17.813_543_579_0);
    // The paper's intervals of its limits, at 2 deviations, are an approximation that follows from
    // the error; ours, at 1.96, are exact and reach further out.
    let paper = [-79.647_906_806_0, 75.412_612_688_4];
    let half = t_quantile(16.0) * 3.0_f64.sqrt() * found.standard_error;
    ends(Interval::around(paper[0], half), -114.169_741_646_1, -45.126_071_966_0);
    ends(Interval::around(paper[1], half), 40.890_777_848_3, 109.934_447_528_4);
    let [lower, upper] = [found.lower_limit_interval, found.upper_limit_interval];
    let [near_end, far_end] = [1.315_1, 3.148_3].map(|factor| factor * found.deviation);
    let slack = 0.000_05 * found.deviation + 1e-9;
    let close = |found: f64, expected: f64| assert!((found - expected).abs() <= slack, "{found}");
    // Factors for 17 values by SciPy 1.17.1, scipy.stats.nct.
    let (lower, upper) = (lower.0.unwrap(), upper.0.unwrap());
    close(upper.low - found.bias, near_end);
    close(upper.high - found.bias, far_end);
    close(found.bias - lower.high, near_end);
    close(found.bias - lower.low, far_end);
    near(3.0_f64.sqrt() * found.standard_error, 16.284_611_795_0);
    let fuller = found.deviation * (1.0_f64 / 17.0 + 1.96 * 1.96 / (2.0 * 16.0)).sqrt();
    near(fuller, 16.395_107_984_7);
    for (first, coefficient, within) in
        [(0, 43.293_797_952_8, 15.306_669_057_9), (2, 56.316_333_436_8, 19.910_830_632_4)]
    {
        let found = repeatability(&columns(first, first + 1)).unwrap();
        near(found, within);
        near(2.0 * std::f64::consts::SQRT_2 * found, coefficient);
        // The deviation of the differences, their mean taken as zero, is half of that.
        let apart = if first == 0 { 21.646_898_976_4 } else { 28.158_166_718_4 };
        near(std::f64::consts::SQRT_2 * found, apart);
    }
}

/// Lin 1989, Biometrics 45:255-268, with the correction of 2000, 56:324-325, on the same data.
#[test]
fn lin_1989() {
    let line: Vec<(f64, f64)> = (1..=5).map(|x| (f64::from(x), f64::from(x + 1))).collect();
    // With n below; with n - 1 it would be 0.8333333333.
    near(concordance(&line).unwrap().value, 0.8);
    let found = concordance(&columns(0, 2)).unwrap();
    near(found.value, 0.942_742_431_4);
    near(found.correlation, 0.943_279_446_9);
    near(found.accuracy, 0.999_430_693_1);
    near(found.standard_error, 0.028_616_737_5);
    ends(
        Interval::around(found.value, 1.959_963_984_5 * found.standard_error),
        0.886_654_656_7,
        0.998_830_206_2,
    );
    ends(found.interval, 0.850_491_873_1, 0.978_726_279_2);
    let large = concordance(&columns(0, 1)).unwrap();
    near(large.value, 0.982_130_561_9);
    ends(large.interval, 0.952_183_131_9, 0.993_385_636_9);
    let mini = concordance(&columns(2, 3)).unwrap();
    near(mini.value, 0.966_566_072_4);
    ends(mini.interval, 0.910_817_889_1, 0.987_690_285_6);
}

/// Wilson 1927, Clopper and Pearson 1934, and the examples of Newcombe 1998, Stat. Med.
/// 17:857-872.
#[test]
fn newcombe_1998() {
    let wilson_ends = [
        ((81, 263), 0.255_288_519_9, 0.366_209_577_0),
        ((15, 148), 0.062_386_399_5, 0.160_487_241_7),
        ((0, 20), 0.0, 0.161_125_158_1),
        ((1, 29), 0.006_113_214_3, 0.171_755_218_8),
        ((23, 60), 0.270_882_723_7, 0.509_824_041_8),
        ((8, 10), 0.490_162_471_5, 0.943_317_848_5),
        ((10, 10), 0.722_467_200_1, 1.0),
    ];
    for ((hits, of), low, high) in wilson_ends {
        ends(wilson(hits, of).unwrap().interval.0.unwrap(), low, high);
    }
    let corrected = [
        ((81, 263), 0.253_508_682_3, 0.368_176_201_0),
        ((15, 148), 0.059_778_208_4, 0.164_449_779_4),
        ((0, 20), 0.0, 0.200_453_345_0),
        ((1, 29), 0.001_802_640_2, 0.196_281_751_0),
    ];
    for ((hits, of), low, high) in corrected {
        ends(wilson_corrected(hits, of).unwrap().interval.0.unwrap(), low, high);
    }
    let by_tails = [
        ((81, 263), 0.252_736_745_6, 0.367_621_922_6),
        ((15, 148), 0.057_844_010_1, 0.161_650_490_3),
        ((0, 20), 0.0, 0.168_433_471_0),
        ((1, 29), 0.000_872_646_9, 0.177_644_295_5),
        ((23, 60), 0.260_707_058_0, 0.517_885_048_6),
        ((8, 10), 0.443_904_537_7, 0.974_789_273_7),
        ((10, 10), 0.691_502_892_2, 1.0),
    ];
    for ((hits, of), low, high) in by_tails {
        ends(exact(hits, of).unwrap().interval.0.unwrap(), low, high);
    }
    // Nothing of twenty ends at exactly 0, all of ten at exactly 1.
    assert_eq!(wilson(0, 20).unwrap().interval.0.unwrap().low, 0.0);
    assert_eq!(wilson(10, 10).unwrap().interval.0.unwrap().high, 1.0);
}

/// Two-sided tolerance factors as tables of them have it (for example Berthouex and Brown,
/// Statistics for Environmental Engineers, table 21.1: 95 of 100 values, 95 % confidence); ours is
/// Howe's approximation. Factors of a single limit by SciPy 1.17.1: scipy.stats.nct.ppf(0.025 and
/// 0.975, n - 1, 1.96 √n) / √n.
#[test]
fn tolerance_factors_are_those_of_the_tables() {
    for (found, factor) in [(4, 6.34), (6, 4.42), (8, 3.75), (10, 3.39), (20, 2.76), (60, 2.34)] {
        let ours = tolerance_factor(found);
        assert!((ours / factor - 1.0).abs() < 0.012, "{found}: {ours} is not {factor}");
    }
    for (found, factors) in [
        (3, [0.7127, 12.8164]),
        (4, [0.8349, 7.7097]),
        (8, [1.0913, 4.2432]),
        (20, [1.3565, 3.0141]),
        (60, [1.5821, 2.4752]),
    ] {
        for (ours, factor) in limit_factors(found, 1.96).into_iter().zip(factors) {
            assert!((ours - factor).abs() < 0.000_06, "{found}: {ours} is not {factor}");
        }
    }
}

/// What Blaker proved in 2000: his interval holds every share in at least 95 of 100, and lies within
/// that of Clopper and Pearson. Added up over all counts by the binomial formula; the ends are looked
/// for in steps, outward of the true ones.
#[test]
fn blakers_interval_never_holds_less_than_it_says() {
    for of in [8, 20, 60] {
        let intervals: Vec<Interval> =
            (0..=of).map(|hits| blaker(hits, of).unwrap().interval.0.unwrap()).collect();
        for (hits, interval) in intervals.iter().enumerate() {
            let outer = exact(hits, of).unwrap().interval.0.unwrap();
            assert!(outer.low <= interval.low && interval.high <= outer.high, "{hits} of {of}");
        }
        let mut shorter = 0;
        for step in 1..400 {
            let share = f64::from(step) / 400.0;
            let mut chance = (1.0 - share).powi(of as i32);
            let (mut held, mut outer) = (0.0, 0.0);
            for (hits, interval) in intervals.iter().enumerate() {
                held += if interval.holds(share) { chance } else { 0.0 };
                let clopper = exact(hits, of).unwrap().interval.0.unwrap();
                outer += if clopper.holds(share) { chance } else { 0.0 };
                chance *= (of - hits) as f64 / (hits + 1) as f64 * share / (1.0 - share);
            }
            assert!(held >= 0.95 - 1e-9, "{share} of {of}: {held}");
            shorter += usize::from(held < outer - 1e-9);
        }
        assert!(shorter > 50, "{of}: as long as that of Clopper and Pearson");
    }
}

/// Where there is nothing to see no interval is given: four equal answers, the same difference again.
#[test]
fn few_or_equal_answers_have_no_interval_and_say_why() {
    let four = kappa(&square(&[&[2, 0], &[0, 2]]), Weights::Plain).unwrap();
    near(four.value, 1.0);
    let why = four.interval.0.unwrap_err().to_string();
    assert_eq!(why, "too few items for an interval: 4, it takes 20");
    let twenty = kappa(&square(&[&[10, 0], &[0, 10]]), Weights::Plain).unwrap();
    let interval = twenty.interval.0.unwrap();
    // 20 of 20 the same leave a share of agreement of 83 % possible (Clopper and Pearson), that is a
    // kappa of 0.66 where both answers are as common.
    assert!(interval.high == 1.0 && (0.5..0.7).contains(&interval.low), "{interval:?}");
    let same = differences(&[(35.0, 30.0), (45.0, 40.0), (15.0, 10.0)]).unwrap();
    near(same.bias, 5.0);
    for range in [same.bias_interval, same.lower_limit_interval, same.tolerance] {
        let why = range.0.unwrap_err().to_string();
        assert_eq!(why, "all differences are the same, so no interval");
    }
}
