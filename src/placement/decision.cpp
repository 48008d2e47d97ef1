#include "placement/decision.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

/// Index of the least `value` among those for which `counts` holds; the later of equals.
template <typename Counts, typename Value>
int least(std::span<const BoxChance> boxes, Counts counts, Value value) {
    int best = -1;
    for (int n = 0; n < static_cast<int>(boxes.size()); ++n)
        if (boxes[n].allowed && counts(boxes[n]) &&
            (best < 0 || value(boxes[n]) <= value(boxes[best])))
            best = n;
    return best;
}

double volume(const BoxChance& box) {
    return box.volume;
}

double quietness(const BoxChance& box) {
    return -box.loudest_db;
}

/// The smallest of those for which `counts` holds.
template <typename Counts>
int smallest(std::span<const BoxChance> boxes, Counts counts) {
    return least(boxes, counts, volume);
}

double highest_qtc(std::span<const BoxChance> boxes) {
    const int flattest = flattest_box(boxes);
    return std::max(bearable_qtc, boxes[flattest].qtc) + 1e-9;
}

/// By how much a box misses the level asked [dB].
double missed(const BoxChance& box, const BoxNeed& need) {
    if (!need.level || !need.levels_known) return 0;
    return std::max(0.0, *need.level - box.loudest_db);
}

/// What the rule looks at beside size: lower is better [dB].
double fault(const BoxChance& box, const BoxNeed& need) {
    if (missed(box, need) > 0) return 1e3 + missed(box, need);
    if (!need.equaliser || !need.levels_known) return box.balance_db;
    return need.level ? 0 : -box.loudest_db;
}

}  // namespace

int flattest_box(std::span<const BoxChance> boxes) {
    return least(
        boxes, [](const BoxChance&) { return true; },
        [](const BoxChance& box) { return box.balance_db; });
}

int box_by_balance(std::span<const BoxChance> boxes, double indifference) {
    const int flattest = flattest_box(boxes);
    if (flattest < 0) return -1;
    const double good = boxes[flattest].balance_db + indifference, most = highest_qtc(boxes);
    return smallest(
        boxes, [&](const BoxChance& box) { return box.qtc <= most && box.balance_db <= good; });
}

int box_to_build(std::span<const BoxChance> boxes, const BoxNeed& need) {
    if (flattest_box(boxes) < 0) return -1;
    const double most = highest_qtc(boxes);
    std::vector<BoxChance> able(boxes.begin(), boxes.end());  // those among which it is chosen
    for (BoxChance& box : able) box.allowed = box.allowed && box.qtc <= most;
    double least_missed = HUGE_VAL;
    for (const BoxChance& box : able)
        if (box.allowed) least_missed = std::min(least_missed, missed(box, need));
    for (BoxChance& box : able) box.allowed = box.allowed && missed(box, need) <= least_missed;
    if (!need.equaliser || !need.levels_known) return box_by_balance(able, need.indifference);
    const int loudest = least(
        std::span<const BoxChance>(able), [](const BoxChance&) { return true; }, quietness);
    const double enough = need.level ? -HUGE_VAL : able[loudest].loudest_db - need.indifference;
    return smallest(std::span<const BoxChance>(able),
                    [&](const BoxChance& box) { return box.loudest_db >= enough; });
}

bool worse(const BoxChance& a, const BoxChance& b, const BoxNeed& need) {
    const double mine = fault(a, need), other = fault(b, need);
    return mine > other + need.indifference || (mine >= other && a.volume > b.volume);
}

bool further_box_is_worth_it(double spread_gain_db, double share_of_draws, double indifference) {
    constexpr double sure = 0.9;
    return spread_gain_db >= indifference && (share_of_draws < 0 || share_of_draws >= sure);
}

}  // namespace boxroom
