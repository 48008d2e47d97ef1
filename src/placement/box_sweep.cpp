#include "placement/box_sweep.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

std::vector<double> qtcs_to_try(QtcSweep sweep, double qts) {
    sweep.low = std::max(sweep.low, 1.05 * qts);  // no box can go below Qts
    if (sweep.high <= sweep.low)
        throw Error("[box] sweep", "no Qtc of the sweep is possible: a box only raises Qts",
                    "give a sweep that reaches above the driver's Qts");
    std::vector<double> qtc;
    for (int n = 0; n < sweep.steps; ++n)
        qtc.push_back(sweep.low + (sweep.high - sweep.low) * n / std::max(1, sweep.steps - 1));
    // The textbook box is always among them: the step nearest to it is moved on to it.
    if (textbook_qtc > sweep.low && textbook_qtc < sweep.high)
        *std::ranges::min_element(qtc, {}, [](double q) { return std::abs(q - textbook_qtc); }) =
            textbook_qtc;
    return qtc;
}

}  // namespace

std::vector<ClosedBox> boxes_to_try(const Scenario& scenario, const Driver& driver) {
    const Design& design = scenario.design;
    std::vector<ClosedBox> boxes;
    if (design.volume_sweep)
        for (const double volume : *design.volume_sweep)
            boxes.push_back(closed_box(driver, volume, design.filling));
    else
        for (const double q : qtcs_to_try(design.sweep.value_or(QtcSweep{}), driver.qts))
            boxes.push_back(closed_box_for_qtc(driver, q, design.filling));
    std::ranges::sort(boxes, {}, &ClosedBox::qtc);
    return boxes;
}

}  // namespace boxroom
