// A second opinion: SciPy 1.10.1 (scipy.signal), which knows nothing of loudspeakers.
#include <catch2/catch.hpp>
#include <complex>
#include <vector>

#include "woofer/closed_box.hpp"

using namespace boxroom;

namespace {

struct Row {
    double qtc;
    std::vector<double> values;
};

ClosedBox box_with(double qtc) {
    ClosedBox box;
    box.fc = 40, box.qtc = qtc;
    return box;
}

const std::vector<double> times{0, 2e-3, 5e-3, 1e-2, 2e-2, 5e-2};

}  // namespace

TEST_CASE("Response against scipy.signal.freqs") {
    // w0 = 2*pi*40; signal.freqs([1,0,0], [1, w0/Q, w0**2], 2*pi*f): real, imaginary, ...
    const Row rows[] = {
        {0.4,
         {-0.0461538462, 0.0307692308, -0.0846280705, 0.216995053, 0, 0.4, 0.352941176, 0.588235294,
          0.738461538, 0.492307692}},
        {0.5,
         {-0.0519031142, 0.0276816609, -0.123090519, 0.252493372, 0, 0.5, 0.48, 0.64, 0.830449827,
          0.442906574}},
        {0.8,
         {-0.06, 0.02, -0.242476996, 0.310867943, 0, 0.8, 0.786885246, 0.655737705, 0.96, 0.32}},
        {1.2,
         {-0.0635294118, 0.0141176471, -0.370425092, 0.316602643, 0, 1.2, 1.01886792, 0.566037736,
          1.01647059, 0.225882353}},
    };
    const double frequency[] = {10, 25, 40, 80, 160};
    for (const Row& row : rows)
        for (int n = 0; n < 5; ++n) {
            INFO("Qtc " << row.qtc << ", " << frequency[n] << " Hz");
            const std::complex<double> expected{row.values[2 * n], row.values[2 * n + 1]};
            CHECK(std::abs(box_with(row.qtc).response(frequency[n]) - expected) < 1e-8);
        }
}

TEST_CASE("Displacement step against scipy.signal") {
    // signal.step(([w0**2], [1, w0/Q, w0**2]), T=linspace(0, 0.05, 50001))
    const Row rows[] = {
        {0.4, {0, 0.0849535301, 0.315683409, 0.622707749, 0.892010895, 0.997510076}},
        {0.5, {0, 0.0910101926, 0.357739556, 0.715415689, 0.960457286, 0.999952689}},
        {0.8, {0, 0.101488391, 0.443034132, 0.92538266, 1.05504079, 1.00047649}},
        {1.2, {0, 0.108155682, 0.506915035, 1.10821655, 1.07341216, 1.00001038}},
    };
    for (const Row& row : rows)
        for (std::size_t n = 0; n < times.size(); ++n) {
            INFO("Qtc " << row.qtc << ", " << times[n] << " s");
            CHECK(box_with(row.qtc).displacement_step(times[n]) ==
                  Approx(row.values[n]).margin(1e-7));
        }
}

TEST_CASE("Pressure step against scipy.signal") {
    // signal.step(([1,0,0], [1, w0/Q, w0**2]), T=linspace(0, 0.05, 50001))
    const Row rows[] = {
        {0.4, {1, 0.228652516, -0.0698259075, -0.0861212879, -0.0269434611, -0.000622480894}},
        {0.5, {1, 0.300855318, -0.0730413569, -0.122579127, -0.0264198739, -4.03358942e-05}},
        {0.8, {1, 0.451272211, -0.0497589955, -0.233117681, -0.00626468632, -0.000243126658}},
        {1.2, {1, 0.563816743, -0.000871097789, -0.351348574, 0.0383228395, 0.00442785534}},
    };
    for (const Row& row : rows)
        for (std::size_t n = 0; n < times.size(); ++n) {
            INFO("Qtc " << row.qtc << ", " << times[n] << " s");
            CHECK(box_with(row.qtc).step_response(times[n]) == Approx(row.values[n]).margin(1e-7));
        }
}

TEST_CASE("Impulse response against scipy.signal") {
    // signal.impulse(([-w0/Q, -w0**2], [1, w0/Q, w0**2]), T=linspace(0, 0.05, 50001)): H - 1
    const Row rows[] = {
        {0.4, {-628.318531, -212.67046, -31.9417614, 7.52419082, 3.36417476, 0.0782232501}},
        {0.5, {-502.654825, -227.646811, -53.1728848, 10.4493228, 4.99097386, 0.00926105117}},
        {0.8, {-314.159265, -231.694163, -106.357022, 11.3622822, 11.7751272, 0.12330131}},
        {1.2, {-209.43951, -217.016289, -148.791197, 0.25938229, 25.6721649, 0.411172276}},
    };
    for (const Row& row : rows)
        for (std::size_t n = 0; n < times.size(); ++n) {
            INFO("Qtc " << row.qtc << ", " << times[n] << " s");
            CHECK(box_with(row.qtc).impulse_response(times[n]) ==
                  Approx(row.values[n]).margin(1e-4));
        }
}

TEST_CASE("Volume velocity with voice-coil inductance against scipy.signal.freqs") {
    // An invented driver, by its mechanics; rho, c = 1.2041, 343.2; K = 1/Cms + rho*c**2*Sd**2/Vab
    // signal.freqs([Sd*Bl*2.83, 0], [Le*Mms, Re*Mms + Le*Rms, Re*Rms + Le*K + Bl**2, Re*K], 2*pi*f)
    Driver driver;
    driver.sd = 0.048, driver.re = 3.4, driver.le = 1.2e-3, driver.bl = 17.0, driver.mms = 0.165;
    driver.rms = 3.9, driver.cms = 2.1e-4;
    ClosedBox box;
    box.apparent_volume = 0.045;
    const std::vector<double> frequency{10, 20, 40, 80, 160};
    const std::complex<double> expected[] = {{1.525814329e-03, 2.970793288e-03},
                                             {4.443681709e-03, 3.602775953e-03},
                                             {7.557515128e-03, 5.089322546e-04},
                                             {5.482361708e-03, -4.173831102e-03},
                                             {9.207231745e-04, -4.170188239e-03}};
    const auto u = volume_velocity(driver, box, frequency, Air{});
    for (int n = 0; n < 5; ++n)
        CHECK(std::abs(u[n] - expected[n]) < 1e-9 * std::abs(expected[n]) + 1e-11);
}
