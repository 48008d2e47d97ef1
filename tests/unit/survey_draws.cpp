// Draws: the generator against its published vectors, distributions against SciPy, and that a room
// is the same whoever draws it.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>

#include "solvers/room.hpp"
#include "survey/distribution.hpp"
#include "survey/drawn_room.hpp"
#include "survey/philox.hpp"
#include "survey/survey_file.hpp"

using namespace boxroom;

namespace {

Survey living_rooms() {
    return read_survey_file(BOXROOM_SOURCE_DIR "/rooms/survey.toml");
}

Distribution spread(Distribution::Kind kind, double first, double second, double low = 0,
                    double high = 0) {
    Distribution d;
    d.kind = kind, d.first = first, d.second = second, d.low = low, d.high = high;
    return d;
}

}  // namespace

TEST_CASE("Philox 4x32-10 gives the words of its authors (kat_vectors of Random123)") {
    using Words = std::array<std::uint32_t, 4>;
    CHECK(philox({0, 0, 0, 0}, {0, 0}) == Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
    const std::uint32_t ones = 0xffffffff;
    CHECK(philox({ones, ones, ones, ones}, {ones, ones}) ==
          Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
    CHECK(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
          Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
}

TEST_CASE("Uniform numbers have all 53 bits and their mean and variance (1/2, 1/12)") {
    double sum = 0, squares = 0;
    constexpr int count = 100'000;
    for (std::uint32_t n = 0; n < count; ++n) {
        const double u = philox_uniform({n, 0, 0, 7}, 18);
        REQUIRE((u > 0 && u < 1));
        sum += u, squares += (u - 0.5) * (u - 0.5);
    }
    CHECK(sum / count == Approx(0.5).margin(4 * std::sqrt(1.0 / 12 / count)));
    CHECK(squares / count == Approx(1.0 / 12).margin(4 * std::sqrt(1.0 / 180 / count)));
}

TEST_CASE("Quantiles of the normal distribution are SciPy's (scipy.stats.norm.ppf, 1.10)") {
    const std::pair<double, double> known[] = {
        {1e-12, -7.034483825301131}, {1e-4, -3.7190164854556804}, {0.02, -2.053748910631823},
        {0.1, -1.2815515655446004},  {0.3, -0.5244005127080409},  {0.5, 0.0},
        {0.8, 0.8416212335729143},   {0.975, 1.959963984540054},  {0.9999, 3.719016485455709}};
    for (const auto& [p, z] : known) {
        CHECK(normal_quantile(p) == Approx(z).epsilon(1e-12).margin(1e-15));
        CHECK(normal_probability(z) == Approx(p).epsilon(1e-12));
    }
}

TEST_CASE("Cut distributions have SciPy's quantiles (truncnorm, lognorm between two of its cdf)") {
    using Kind = Distribution::Kind;
    const Distribution normal = spread(Kind::normal, 4.2, 0.8, 2.6, 7);
    const Distribution log_normal = spread(Kind::log_normal, 1.1, 1.8, 0.3, 3.5);
    const Distribution uniform = spread(Kind::uniform, 0.6, 0.75);
    struct Known {
        double p, normal, log_normal, uniform;
    };
    for (const Known& k : {Known{0.01, 2.724016883540024, 0.3409997304374064, 0.6015},
                           Known{0.25, 3.7024815307405072, 0.7454905117242735, 0.6375},
                           Known{0.5, 4.222580201530237, 1.0911779194367626, 0.675},
                           Known{0.9, 5.234729359350015, 2.190210137845412, 0.735},
                           Known{0.999, 6.626605803260728, 3.4662389548734067, 0.74985}}) {
        CHECK(normal.quantile(k.p) == Approx(k.normal).epsilon(1e-12));
        CHECK(log_normal.quantile(k.p) == Approx(k.log_normal).epsilon(1e-12));
        CHECK(uniform.quantile(k.p) == Approx(k.uniform).epsilon(1e-12));
    }
}

TEST_CASE("A choice is taken as often as its weight says, and never with the weight 0") {
    const std::vector<double> weights{0, 1, 3, 0};
    CHECK(choice_at(weights, 1e-16) == 1);
    CHECK(choice_at(weights, 0.2499) == 1);
    CHECK(choice_at(weights, 0.2501) == 2);
    CHECK(choice_at(weights, 1 - 1e-16) == 2);
}

TEST_CASE("Drawn rooms lie where SciPy's quantiles say: as many below each as its share") {
    const Survey survey = living_rooms();
    constexpr int count = 20'000;
    // Widths below truncnorm's quantiles, as above; lengths about their median, which is moved by
    // the cut (truncnorm.ppf(0.5, -2.1/1.1, 3.7/1.1, 5.3, 1.1) = 5.3383).
    int narrow = 0, half = 0, wide = 0, along = 0, both = 0, l_shaped = 0;
    for (int n = 0; n < count; ++n) {
        const DrawnRoom room = draw_room(survey, n);
        narrow += room.width < 3.7024815, half += room.width < 4.2225802;
        wide += room.width < 5.2347294;
        along += room.length < 5.3383;
        both += (room.width < 4.2225802) == (room.length < 5.3383);
        l_shaped += !room.outline.empty();
        for (const Point& seat : room.seats)
            REQUIRE((seat.x >= 0.19 && seat.x <= room.width - 0.19 && seat.y >= 0.19 &&
                     seat.y <= room.length - 0.19));
    }
    const auto margin = [](double share) {  // four standard deviations, and the rounding to 1 cm
        return 4 * std::sqrt(share * (1 - share) / count) + 0.003;
    };
    CHECK(double(narrow) / count == Approx(0.25).margin(margin(0.25)));
    CHECK(double(half) / count == Approx(0.5).margin(margin(0.5)));
    CHECK(double(wide) / count == Approx(0.9).margin(margin(0.9)));
    CHECK(double(along) / count == Approx(0.5).margin(margin(0.5)));
    CHECK(double(l_shaped) / count == Approx(survey.l_shaped).margin(margin(survey.l_shaped)));
    // Normal numbers of correlation r lie on the same side of their medians with the probability
    // 1/2 + asin(r)/pi (Sheppard 1899; from memory): 2/3 for r = 1/2.
    CHECK(double(both) / count == Approx(2.0 / 3).margin(margin(2.0 / 3)));
}

TEST_CASE("A room depends on the seed and on its number alone") {
    Survey survey = living_rooms();
    const DrawnRoom forward = draw_room(survey, 4711);
    draw_room(survey, 12);
    survey.rooms = 5;  // how many there are has no say
    const DrawnRoom again = draw_room(survey, 4711);
    CHECK(again.width == forward.width);
    CHECK(again.qts == forward.qts);
    CHECK(again.seats.size() == forward.seats.size());
    CHECK(again.seats.front().x == forward.seats.front().x);
    survey.seed = 19;
    CHECK(draw_room(survey, 4711).width != forward.width);
}

TEST_CASE("An L goes round from x towards y, loses one corner, and seats stand on its floor") {
    Survey survey = living_rooms();
    survey.l_shaped = 1;
    for (int n = 0; n < 200; ++n) {
        const DrawnRoom room = draw_room(survey, n);
        REQUIRE(room.outline.size() == 6);
        CHECK(signed_area(room.outline) > 0);
        CHECK(signed_area(room.outline) < room.width * room.length);
        CHECK(crossing_edges(room.outline).first < 0);
        RoomPlan plan;
        plan.outline = room.outline;
        for (const Point& seat : room.seats) CHECK(plan.covers(seat.x, seat.y));
    }
}
