#include "solvers/contents.hpp"

#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/spelling.hpp"
#include "solvers/imaginary_unit.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// The rule by which the areas follow from measured rooms.
///
/// The mean British living room of the studies has about 18 m2 of floor and 43 m3 (from memory).
/// Its decay at 125 Hz, 0.69 s (0.40 s for the well furnished), asks for 55.3 V/(c T) = 10.0 m2
/// (17.3 m2) of absorption in all. Its own surfaces take between 2.3 m2 (all masonry at 0.02, one
/// window, one door) and 7.7 m2 (timber floor at 0.15, board ceiling at 0.20) of it. What is left
/// for the contents, over the floor and over Re H(125 Hz) = 0.68, is 0.19 to 0.63 (0.79 to 1.23);
/// with 0.45 (1.05) the two rooms lie evenly about the measured decay. Soft stays at 0.90, since
/// from there on H would move modes below 80 Hz by 1 %.
std::vector<NamedContents> table_of_contents() {
    const std::string books =
        "50 British living rooms, mean 0.69 s at 125 Hz; 16 well furnished ones 0.35 to 0.45 s "
        "(Everest, Master Handbook of Acoustics, ch. 11), less what their walls, floor and ceiling "
        "take";
    return {{"bare", 0, 0, 0, "an empty room"},
            {"sparse", 0.15, 0.05, 0.35, "assumed: a third of \"furnished\""},
            {"furnished", 0.45, 0.19, 0.63, books + " (mean of the 50)"},
            {"soft", 0.90, 0.79, 1.23, books + " (the well furnished)"}};
}

}  // namespace

Complex Contents::decay_rate(Complex omega, const Air& air, double volume) const {
    if (empty()) return 0;
    const double full = air.speed_of_sound * area / (8 * volume);
    if (q <= 0) return full;
    const double own = 2 * std::numbers::pi * frequency;
    return full / (1.0 + j * q * (omega / own - own / omega));
}

Complex Contents::density_factor(Complex omega, const Air& air, double volume) const {
    if (empty()) return 1;
    return 1.0 - 2.0 * j * decay_rate(omega, air, volume) / omega;
}

const std::vector<NamedContents>& named_contents() {
    static const std::vector<NamedContents> table = table_of_contents();
    return table;
}

const NamedContents& find_named_contents(std::string_view name) {
    std::vector<std::string> names;
    for (const NamedContents& named : named_contents()) {
        if (named.name == name) return named;
        names.push_back(named.name);
    }
    const std::string nearest = nearest_word(name, names);
    throw Error("", "contents named \"" + std::string(name) + "\" are not known",
                (nearest.empty() ? "write" : "did you mean \"" + nearest + "\"? Write") +
                    std::string(" bare, sparse, furnished or soft, or { absorption_area = "
                                "\"6 m2\" }"));
}

Contents contents_of(const NamedContents& named, double floor_area) {
    return {named.area_per_floor * floor_area, named_contents_q, named_contents_frequency,
            named.name};
}

Contents constant_contents(double area) {
    if (!(area >= 0 && std::isfinite(area)))
        throw Error("", "an absorption area cannot be negative", "write for example \"6 m2\"");
    return {area, 0, 0, "treatment"};
}

}  // namespace boxroom
