#include "placement/comparison.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"
#include "results/criterion.hpp"

namespace boxroom {
namespace {

/// The value at f on straight lines over ln x; f lies within x.
double between(const std::vector<double>& x, const std::vector<double>& y, double f) {
    const auto above = std::ranges::lower_bound(x, f);
    const auto i = static_cast<std::size_t>(above - x.begin());
    if (*above == f || i == 0) return y[i];
    const double share = std::log(f / x[i - 1]) / std::log(x[i] / x[i - 1]);
    return y[i - 1] + share * (y[i] - y[i - 1]);
}

}  // namespace

Comparison compare(const std::string& first_name, const Listening& first,
                   const std::string& second_name, const Listening& second, const Band& band) {
    if (first.absolute != second.absolute)
        throw Error("compare", "one of the two knows its level and the other does not",
                    "give both drivers re, sd and qes (or bl and mms), or neither");
    Comparison out;
    out.first = {first_name, {}, first.criteria};
    out.second = {second_name, {}, second.criteria};
    for (std::size_t i = 0; i < first.frequency.size(); ++i) {
        const double f = first.frequency[i];
        if (second.frequency.empty() || f < second.frequency.front() || f > second.frequency.back())
            continue;
        out.frequency.push_back(f);
        out.first.average_db.push_back(first.seat_average_db[i]);
        out.second.average_db.push_back(between(second.frequency, second.seat_average_db, f));
        out.difference_db.push_back(out.second.average_db.back() - out.first.average_db.back());
    }
    const auto inside =
        std::ranges::count_if(out.frequency, [&](double f) { return band.contains(f); });
    if (inside < 3)
        throw Error("compare", "the two have fewer than three frequencies of the band in common",
                    "give both files the same [target] band and [analysis]");
    const std::vector<double> weight = log_mean_weights(out.frequency, band);
    for (std::size_t i = 0; i < out.frequency.size(); ++i) {
        const double d = out.difference_db[i];
        out.rms_db += weight[i] * d * d;
        if (band.contains(out.frequency[i]) && std::abs(d) > std::abs(out.largest_db))
            out.largest_db = d, out.largest_at_hz = out.frequency[i];
    }
    out.rms_db = std::sqrt(out.rms_db);
    return out;
}

std::string comparison_words(const Comparison& c) {
    if (std::abs(c.largest_db) < 0.05)
        return "Both sound the same: no note of the band differs by a tenth of a decibel.";
    std::string text = "The averages over the seats differ by " + number(c.rms_db, 1) +
                       " dB (RMS over the band); most at " + number(c.largest_at_hz, 0) +
                       " Hz, where the second is " + number(std::abs(c.largest_db), 1) + " dB " +
                       (c.largest_db > 0 ? "louder." : "quieter.");
    std::string better, worse;
    for (const Criterion& row : criterion_table) {
        if (!on_pages(row, false)) continue;
        const double a = c.first.criteria.*row.member, b = c.second.criteria.*row.member;
        const std::string from = number(a, row.decimals), to = number(b, row.decimals);
        if (from == to) continue;
        std::string& list = (b < a) == row.low_is_good ? better : worse;
        list += (list.empty() ? "" : ", ") + std::string(row.label) + " (" + from + " to " + to +
                " " + row.unit + ")";
    }
    if (!better.empty()) text += " Better in the second: " + better + ".";
    if (!worse.empty()) text += " Worse: " + worse + ".";
    return text;
}

}  // namespace boxroom
