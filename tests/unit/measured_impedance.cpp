// The circuit of a driver found again in curves made from its mechanics: Z = Re + jwLe + K sqrt(jw)
// + Bl^2/(Rms + jwMms + 1/(jwCms)) (Beranek & Mellow, Acoustics, ch. 6; K: Vanderkooy, JAES 37,
// 1989). The mechanics are the invented driver's of woofer_driver.cpp; nothing of src/measured
// makes the curves.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include "base/error.hpp"
#include "measured/driver_parameters.hpp"
#include "measured/impedance.hpp"

using namespace boxroom;

namespace {

struct Mechanics {
    double Re = 3.4, Bl = 17.0, Mms = 0.165, Rms = 3.9, Cms = 2.1e-4, Le = 1.2e-3, K = 0;
    double fs() const { return 1 / (2 * std::numbers::pi * std::sqrt(Mms * Cms)); }
    double qes() const { return std::sqrt(Mms / Cms) * Re / (Bl * Bl); }
    double qms() const { return std::sqrt(Mms / Cms) / Rms; }
};

constexpr double Sd = 0.048, rho = 1.2041, c = 343.2;

Curve curve_of(const Mechanics& m, double noise, bool phase, int points = 300, double low = 5,
               double high = 1000) {
    std::mt19937 draw(7);
    std::normal_distribution<double> normal;
    Curve curve;
    for (int i = 0; i < points; ++i) {
        const double f = low * std::pow(high / low, i / (points - 1.0));
        const std::complex<double> s{0, 2 * std::numbers::pi * f};
        const auto z = m.Re + s * m.Le + m.K * std::sqrt(s) +
                       m.Bl * m.Bl / (m.Rms + s * m.Mms + 1.0 / (s * m.Cms));
        curve.frequency.push_back(f);
        curve.value.push_back(std::abs(z) * std::exp(noise * normal(draw)));
        if (phase) curve.phase.push_back(std::arg(z) + noise * normal(draw));
    }
    return curve;
}

DriverParameters parameters(const Mechanics& m, double noise, bool phase) {
    DriverCurves curves;
    curves.free = fit_circuit(curve_of(m, noise, phase), "free.csv");
    return driver_parameters(curves, Air{});
}

void check_exact(const DriverParameters& p, const Mechanics& m) {
    CHECK(p.fs.best == Approx(m.fs()).epsilon(1e-5));
    CHECK(p.qes.best == Approx(m.qes()).epsilon(1e-4));
    CHECK(p.qms.best == Approx(m.qms()).epsilon(1e-4));
    CHECK(1 / p.qts.best == Approx(1 / m.qes() + 1 / m.qms()).epsilon(1e-4));
    CHECK(p.re.best == Approx(m.Re).epsilon(1e-4));
    CHECK(p.le.best == Approx(m.Le).margin(1e-6));
    CHECK(p.semi == Approx(m.K).margin(1e-4));
}

bool holds(const Interval& interval, double truth) {
    return interval.low <= truth && truth <= interval.high;
}

}  // namespace

TEST_CASE("Without noise the circuit is found as it is, by |Z| alone and with the phase") {
    for (const bool phase : {false, true}) {
        check_exact(parameters({}, 0, phase), {});
        Mechanics semi;
        semi.K = 0.05;
        check_exact(parameters(semi, 0, phase), semi);
    }
}

TEST_CASE("An interval of 90 % holds the truth nine times in ten") {
    // 60 curves of 2 % noise; by the binomial law 48 to 59 of 60 hits cover all but 1 % of cases.
    int fs = 0, qts = 0, re = 0;
    std::mt19937 draw(11);
    std::normal_distribution<double> normal;
    for (int i = 0; i < 60; ++i) {
        const Mechanics m{3.4 + 0.02 * i};
        Curve curve = curve_of(m, 0, false, 80);
        for (double& z : curve.value) z *= std::exp(0.02 * normal(draw));
        DriverCurves curves;
        curves.free = fit_circuit(curve, "free.csv");
        const DriverParameters p = driver_parameters(curves, Air{});
        fs += holds(p.fs, m.fs());
        qts += holds(p.qts, m.qes() * m.qms() / (m.qes() + m.qms()));
        re += holds(p.re, m.Re);
    }
    for (const int hits : {fs, qts, re}) {
        CHECK(hits >= 48);
        CHECK(hits <= 60);
    }
}

TEST_CASE("Vas by a known volume and by an added mass agree with the mechanics, noise and all") {
    const double vas = rho * c * c * Sd * Sd * Mechanics{}.Cms, volume = 0.030, mass = 0.080;
    Mechanics boxed, weighed;
    boxed.Cms = 1 / (1 / boxed.Cms + rho * c * c * Sd * Sd / volume);
    boxed.Mms *= 1.04;  // other air moves with the cone in a box: Small's formula does not mind
    boxed.Re *= 1.03;   // and the coil is warmer
    weighed.Mms += mass;
    for (const double noise : {0.0, 0.01}) {
        DriverCurves curves;
        curves.free = fit_circuit(curve_of({}, noise, false), "free.csv");
        curves.boxed = fit_circuit(curve_of(boxed, noise, false), "boxed.csv");
        curves.box_volume = volume;
        curves.weighed = fit_circuit(curve_of(weighed, noise, false), "weighed.csv");
        curves.added_mass = mass;
        curves.sd = Sd;
        const DriverParameters p = driver_parameters(curves, Air{});
        CHECK(p.notes.empty());
        CHECK(p.vas_by_volume->best == Approx(vas).epsilon(noise > 0 ? 0.05 : 1e-3));
        CHECK(p.vas_by_mass->best == Approx(vas).epsilon(noise > 0 ? 0.05 : 1e-3));
        CHECK(holds(*p.vas, vas));
        CHECK(p.mms->best == Approx(0.165).epsilon(noise > 0 ? 0.03 : 1e-3));
        CHECK(p.bl->best == Approx(17).epsilon(noise > 0 ? 0.03 : 1e-3));
        curves.sd.reset();
        CHECK(driver_parameters(curves, Air{}).sd->best ==
              Approx(Sd).epsilon(noise > 0 ? 0.03 : 1e-3));
    }
}

TEST_CASE("A leak makes the two ways disagree, and that is said") {
    Mechanics boxed, weighed;
    boxed.Cms = 1 / (1 / boxed.Cms + rho * c * c * Sd * Sd / 0.030 * 0.7);
    weighed.Mms += 0.080;
    DriverCurves curves;
    curves.free = fit_circuit(curve_of({}, 0.003, false), "free.csv");
    curves.boxed = fit_circuit(curve_of(boxed, 0.003, false), "boxed.csv");
    curves.box_volume = 0.030;
    curves.weighed = fit_circuit(curve_of(weighed, 0.003, false), "weighed.csv");
    curves.added_mass = 0.080, curves.sd = Sd;
    CHECK(driver_parameters(curves, Air{}).notes.size() == 1);
}

TEST_CASE("Curves that cannot be told from get a sentence") {
    CHECK_THROWS_AS(fit_circuit(curve_of({}, 0, false, 7), "a.csv"), Error);
    CHECK_THROWS_AS(fit_circuit(curve_of({}, 0, false, 100, 60, 1000), "a.csv"),
                    Error);  // above fs
    Curve flat = curve_of({}, 0, false);
    for (double& z : flat.value) z = 8;
    CHECK_THROWS_AS(fit_circuit(flat, "a.csv"), Error);
    DriverCurves swapped;
    swapped.free = fit_circuit(curve_of({}, 0, false), "a.csv");
    swapped.boxed = swapped.free, swapped.box_volume = 0.03;
    CHECK_THROWS_AS(driver_parameters(swapped, Air{}), Error);
}

TEST_CASE("A finished box: filling is added where Qtc is too high") {
    Mechanics m;
    m.Cms = 1 / (1 / m.Cms + rho * c * c * Sd * Sd / 0.020);
    const FinishedBox box = finished_box(fit_circuit(curve_of(m, 0, false), "a.csv"), 0.55);
    CHECK(box.fc.best == Approx(m.fs()).epsilon(1e-4));
    const double qtc = m.qes() * m.qms() / (m.qes() + m.qms());
    CHECK(box.qtc.best == Approx(qtc).epsilon(1e-4));
    CHECK(qtc > 0.57);
    CHECK_THAT(box.advice, Catch::Matchers::Contains("add filling"));
    CHECK_THAT(finished_box(fit_circuit(curve_of(m, 0, false), "a.csv"), 0.8).advice,
               Catch::Matchers::Contains("take out filling"));
    CHECK_THAT(finished_box(fit_circuit(curve_of(m, 0, false), "a.csv"), qtc * 1.01).advice,
               Catch::Matchers::Contains("leave the filling"));
}
