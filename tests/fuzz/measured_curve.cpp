// A curve (CSV): read or refused; rising frequencies and values within the column's bounds.
#include <algorithm>
#include <functional>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "harness.hpp"
#include "measured/curve.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    const CurveColumn column{"level_db", -200, 200};
    try {
        const Curve curve = parse_curve(std::string(fuzz::bytes(data, size)), "curve.csv", column);
        const auto& f = curve.frequency;
        if (std::ranges::adjacent_find(f, std::greater_equal{}) != f.end())
            throw std::logic_error("frequencies that do not rise");
        if (curve.value.size() != f.size() || (curve.has_phase() && curve.phase.size() != f.size()))
            throw std::logic_error("columns of unlike length");
        for (const double value : curve.value)
            if (!(value >= column.low && value <= column.high))
                throw std::logic_error("a value out of bounds");
    } catch (const Error&) {
    }
    return 0;
}
