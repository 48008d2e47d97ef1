// How many boxes: the advice and the sentence that gives its reason.
#include <algorithm>
#include <cmath>

#include "base/number.hpp"
#include "placement/decision.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {
namespace {

/// "a second box", or "four boxes" where numbers are left out between.
std::string further_box(int from, int to) {
    static const char* const ordinal[] = {"", "", "a second box", "a third", "a fourth"};
    static const char* const cardinal[] = {"", "one box", "two boxes", "three boxes", "four boxes"};
    return to == from + 1 ? ordinal[to] : cardinal[to];
}

std::string boxes(int count) {
    static const char* const words[] = {"", "one box", "two boxes", "three boxes", "four boxes"};
    return words[count];
}

/// Share of the draws, the same for both, in which `b` has the lower spread; -1 where not drawn.
double better_share(const SubsOption& a, const SubsOption& b) {
    const auto &x = a.chosen().robustness.spread_of_draw, &y = b.chosen().robustness.spread_of_draw;
    if (x.empty() || x.size() != y.size()) return -1;
    double better = 0;
    for (std::size_t n = 0; n < x.size(); ++n) better += y[n] < x[n];
    return better / static_cast<double>(x.size());
}

/// What `next` has over `best`, which is advised so far: " takes the spread from 3.1 to 1.9 dB
/// ...".
std::string step_words(const SubsOption& best, const SubsOption& next, double gain, bool worth,
                       bool several) {
    const double from = best.chosen().criteria.spread_db, to = next.chosen().criteria.spread_db;
    std::string text;
    if (worth) {
        text = (several ? " take" : " takes") + std::string(" the spread from ") + number(from, 1) +
               " to " + number(to, 1) + " dB";
        if (const double share = better_share(best, next); share >= 0)
            text += share == 1 ? " (lower in every draw)"
                               : " (lower in " + number(100 * share, 0) + " % of the draws)";
    } else if (gain > 0.05) {
        text = (several ? " bring only " : " brings only ") + number(gain, 1) + " dB of spread";
    } else {
        text = several ? " do not lower the spread" : " does not lower the spread";
    }
    if (best.loudest.known() && next.loudest.known()) {
        const double louder = next.loudest.level_db - best.loudest.level_db;
        if (std::abs(louder) >= 0.5)
            text += (several ? " and play " : " and plays ") + number(std::abs(louder), 0) +
                    " dB " + (louder > 0 ? "louder" : "less loud");
    }
    return text;
}

/// The first number that reaches the wanted level, if the advised one does not: moves the advice.
std::string level_words(SubsPlan& plan, const Target& target) {
    const auto reaches = [&](const SubsOption& o) {
        return o.loudest.known() && o.loudest.level_db >= *target.level;
    };
    if (!target.level || !plan.options.front().loudest.known() ||
        reaches(plan.options[static_cast<std::size_t>(plan.advice)]))
        return "";
    const auto enough = std::ranges::find_if(plan.options, reaches);
    const std::string wanted = number(*target.level, 0) + " dB";
    if (enough == plan.options.end())
        return "; none of these plays the wanted " + wanted + " with this box";
    plan.advice = static_cast<int>(enough - plan.options.begin());
    return "; the wanted " + wanted + " takes " + boxes(enough->subs());
}

}  // namespace

void advise_number(SubsPlan& plan, const Target& target) {
    const auto& options = plan.options;
    std::string text;
    plan.advice = 0;
    for (std::size_t n = 1; n < options.size(); ++n) {
        const SubsOption &best = options[static_cast<std::size_t>(plan.advice)], &next = options[n];
        const double gain = best.chosen().criteria.spread_db - next.chosen().criteria.spread_db;
        const bool worth =
            further_box_is_worth_it(gain, better_share(best, next), target.indifference);
        const bool unsure = !worth && gain >= target.indifference;
        text +=
            (text.empty() ? "" : "; ") + further_box(options[n - 1].subs(), next.subs()) +
            step_words(best, next, gain, worth || unsure, next.subs() > options[n - 1].subs() + 1) +
            (unsure ? ", which is not sure enough" : "");
        if (worth) plan.advice = static_cast<int>(n);
    }
    text += level_words(plan, target);
    const SubsOption& advised = options[static_cast<std::size_t>(plan.advice)];
    if (text.empty())
        text = boxes(advised.subs()) + (advised.subs() > 1 ? " leave " : " leaves ") +
               number(advised.chosen().criteria.spread_db, 1) + " dB of spread";
    else
        text += ": build " + (advised.subs() > 1 ? boxes(advised.subs()) : std::string("one"));
    text += ".";
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    plan.how_many = text;
}

}  // namespace boxroom
