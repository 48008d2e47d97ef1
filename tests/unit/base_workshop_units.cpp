// Inches in sixteenths, and parts that add up after rounding.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <random>
#include <sstream>

#include "base/workshop_units.hpp"

using namespace boxroom;

namespace {

/// "13 5/16 in" back to metres: read by hand, not by the code under test.
double read_back(const std::string& text) {
    std::istringstream in(text);
    double whole = 0, value = 0;
    for (std::string word; in >> word && word != "in";) {
        const auto slash = word.find('/');
        if (slash == std::string::npos)
            whole = std::stod(word);
        else
            value = std::stod(word.substr(0, slash)) / std::stod(word.substr(slash + 1));
    }
    return (whole + value) * 0.0254;
}

}  // namespace

TEST_CASE("Sixteenths of an inch, in lowest terms") {
    CHECK(format_sixteenths(0.0254) == "1 in");
    CHECK(format_sixteenths(0.0127) == "1/2 in");
    CHECK(format_sixteenths(0.019) == "3/4 in");          // 0.748 in
    CHECK(format_sixteenths(0.338) == "13 5/16 in");      // 13.307 in
    CHECK(format_sixteenths(1.2192) == "48 in");          // 4 ft
    CHECK(format_sixteenths(0.0254 * 12.99) == "13 in");  // carries over
    CHECK(format_sixteenths(0) == "0 in");
    CHECK(format_sixteenths(-0.0254 * 1.5) == "-1 1/2 in");
}

TEST_CASE("Every length read back from its fraction is within 1/32 inch") {
    for (int mm = 0; mm <= 2500; ++mm) {
        const double back = read_back(format_sixteenths(mm * 1e-3));
        CHECK(std::abs(back - mm * 1e-3) <= 0.0254 / 32 + 1e-9);
    }
}

TEST_CASE("Fractions of lengths on the sixteenth grid add up exactly") {
    const double step = 0.0254 / 16;
    std::mt19937 random(7);
    std::uniform_int_distribution<int> any(1, 800);
    for (int n = 0; n < 200; ++n) {
        const double inner = any(random) * step, board = 12 * step;  // 3/4 in
        const double outer = inner + 2 * board;
        CHECK(read_back(format_sixteenths(inner)) + 2 * read_back(format_sixteenths(board)) ==
              Approx(read_back(format_sixteenths(outer))));
    }
}

TEST_CASE("Millimetres and weights") {
    CHECK(format_millimetres(0.338) == "338 mm");
    CHECK(format_millimetres(0.33812) == "338.1 mm");
    CHECK(format_both(0.3048, Units::metric) == "304.8 mm (12 in)");
    CHECK(format_both(0.3048, Units::imperial) == "12 in (304.8 mm)");
    CHECK(format_weight(0.45359237 * 10, Units::imperial) == "10.0 lb (4.5 kg)");
    CHECK(format_weight(0.45359237 / 2, Units::metric) == "227 g (8.0 oz)");
    CHECK(format_litres(0.028316846592, Units::metric) == "28.3 L (1.000 ft3)");  // 1 ft3
}

TEST_CASE("Rounded parts add up to the rounded sum, none off by a step") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> any(0, 40);
    for (int n = 0; n < 500; ++n) {
        const std::vector<double> parts{any(random), any(random), any(random), any(random)};
        const std::vector<double> shown = rounded_parts(parts, 0.1);
        const double sum = std::accumulate(parts.begin(), parts.end(), 0.0);
        CHECK(std::accumulate(shown.begin(), shown.end(), 0.0) ==
              Approx(std::round(sum / 0.1) * 0.1).margin(1e-9));
        CHECK(shown[0] == Approx(std::round(parts[0] / 0.1) * 0.1).margin(1e-9));
        for (std::size_t i = 0; i < parts.size(); ++i)
            CHECK(std::abs(shown[i] - parts[i]) < 0.1 + 1e-9);
    }
    const std::vector<double> three = rounded_parts({0.14, 0.14, 0.12}, 0.1);
    CHECK(three[0] == Approx(0.1));  // 0.4 = 0.1 + 0.2 + 0.1
    CHECK(three[1] == Approx(0.2));
    CHECK(rounded_parts({}, 0.1).empty());
}
