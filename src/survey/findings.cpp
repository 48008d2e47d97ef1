#include "survey/findings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/number.hpp"

namespace boxroom {
namespace {

constexpr double heard = 0.5;  // [dB], as target.indifference

using Rooms = std::vector<std::size_t>;
using Values = std::vector<double>;

/// Columns of the table, of some of its rooms.
class Of {
  public:
    Of(const SurveyTable& table, Rooms rooms) : table_(table), rooms_(std::move(rooms)) {}

    Values values(const std::string& name) const {
        const Values& all = table_[name];
        Values out;
        for (const std::size_t room : rooms_) out.push_back(all[room]);
        return out;
    }
    Values difference(const std::string& name, const std::string& less) const {
        Values out = values(name);
        const Values from = values(less);
        for (std::size_t n = 0; n < out.size(); ++n) out[n] -= from[n];
        return out;
    }
    /// Where `value` is a number, whether it is at most `most`.
    static Share at_most(const Values& values, double most) {
        return share_where(values, [=](double value) { return value <= most; });
    }
    static Share share_where(const Values& values, const std::function<bool(double)>& holds) {
        double held = 0;
        long long known = 0;
        for (const double value : values)
            if (!std::isnan(value)) ++known, held += holds(value);
        return share_of(held, known);
    }
    /// Largest less smallest of three columns, a room each.
    Values range(const std::array<std::string, 3>& names) const {
        const Values a = values(names[0]), b = values(names[1]), c = values(names[2]);
        Values out;
        for (std::size_t n = 0; n < a.size(); ++n)
            out.push_back(std::max({a[n], b[n], c[n]}) - std::min({a[n], b[n], c[n]}));
        return out;
    }
    const Rooms& rooms() const { return rooms_; }
    Of where(const std::string& name, const std::function<bool(double)>& holds) const {
        const Values& all = table_[name];
        Rooms out;
        for (const std::size_t room : rooms_)
            if (holds(all[room])) out.push_back(room);
        return {table_, out};
    }
    Of of_house(std::size_t house) const {
        return where("house", [=](double h) { return h == static_cast<double>(house); });
    }

  private:
    const SurveyTable& table_;
    Rooms rooms_;
};

BoxFindings box_findings(const Of& of, const std::string& house, const std::string& size) {
    return {house,
            size,
            quantiles_of(of.values("best_qtc")),
            quantiles_of(of.values("half_space_best_qtc")),
            quantiles_of(of.values("build_qtc")),
            quantiles_of(of.values("half_space_build_qtc")),
            Of::at_most(of.difference("textbook_balance", "best_balance"), heard)};
}

/// Thirds of the rooms by their volume, in round numbers.
std::vector<std::pair<std::string, Of>> by_size(const Of& of) {
    Values volume = of.values("room_volume");
    if (volume.size() < 30) return {};
    std::ranges::sort(volume);
    const double low = std::round(volume[volume.size() / 3] / 5) * 5;
    const double high = std::round(volume[2 * volume.size() / 3] / 5) * 5;
    if (!(low < high)) return {};
    return {{fmt::format("under {:.0f} m3", low),
             of.where("room_volume", [=](double v) { return v < low; })},
            {fmt::format("{:.0f} to {:.0f} m3", low, high),
             of.where("room_volume", [=](double v) { return v >= low && v < high; })},
            {fmt::format("over {:.0f} m3", high),
             of.where("room_volume", [=](double v) { return v >= high; })}};
}

void put_groups(const SurveyTable& table, const Of& all, SurveyFindings& out) {
    out.all = box_findings(all, "", "");
    for (std::size_t house = 0; house < table.houses.size(); ++house)
        out.groups.push_back(box_findings(all.of_house(house), table.houses[house], ""));
    const auto sizes = by_size(all);
    for (const auto& [size, of] : sizes) out.groups.push_back(box_findings(of, "", size));
    for (std::size_t house = 0; house < table.houses.size(); ++house)
        for (const auto& [size, of] : sizes)
            out.groups.push_back(box_findings(of.of_house(house), table.houses[house], size));
}

Cumulative cumulative(const std::string& name, Values values, const Values& x) {
    std::erase_if(values, [](double value) { return std::isnan(value); });
    std::ranges::sort(values);
    Cumulative out{name, {}};
    for (const double at : x)
        out.share.push_back(values.empty()
                                ? std::nan("")
                                : static_cast<double>(std::ranges::upper_bound(values, at + 1e-9) -
                                                      values.begin()) /
                                      static_cast<double>(values.size()));
    return out;
}

Values steps(double from, double to, int count) {
    Values out;
    for (int n = 0; n <= count; ++n) out.push_back(from + (to - from) * n / count);
    return out;
}

void put_curves(const SurveyTable& table, const Of& all, SurveyFindings& out) {
    out.qtc = steps(0.45, 1.25, 80);
    const auto curves = [&](const std::string& in_room, const std::string& half_space) {
        std::vector<Cumulative> all_of{
            cumulative("all rooms", all.values(in_room), out.qtc),
            cumulative("on an endless floor", all.values(half_space), out.qtc)};
        for (std::size_t house = 0; house < table.houses.size(); ++house)
            all_of.push_back(
                cumulative(table.houses[house], all.of_house(house).values(in_room), out.qtc));
        return all_of;
    };
    out.best_qtc = curves("best_qtc", "half_space_best_qtc");
    out.build_qtc = curves("build_qtc", "half_space_build_qtc");
    out.spread_db = steps(0, 6, 120);
    for (const auto& [name, column] :
         {std::pair("one sub", "one_sub_spread"), std::pair("two subs", "two_subs_spread"),
          std::pair("three subs", "three_subs_spread"), std::pair("four subs", "four_subs_spread")})
        out.spreads.push_back(cumulative(name, all.values(column), out.spread_db));
}

/// Of all subs, so many in each room, where counts[room] hold. The subs of a room are no chances of
/// their own: what chance leaves open is that of as many rooms.
Share share_of_subs(const Values& counts, int subs) {
    double held = 0;
    long long rooms = 0;
    for (const double count : counts)
        if (!std::isnan(count)) held += count / subs, ++rooms;
    return share_of(held, rooms);
}

void put_subs(const Of& all, SurveyFindings& out) {
    const std::string names[] = {"one_sub", "two_subs", "three_subs", "four_subs"};
    for (int n = 0; n < 4; ++n) {
        SubsFindings& subs = out.subs[n];
        const std::string& name = names[n];
        subs.subs = n + 1;
        subs.spread = quantiles_of(all.values(name + "_spread"));
        subs.unevenness = quantiles_of(all.values(name + "_unevenness"));
        subs.equalised_unevenness = quantiles_of(all.values(name + "_equalised_unevenness"));
        subs.in_corners = share_of_subs(all.values(name + "_in_corners"), n + 1);
        subs.at_middles = share_of_subs(all.values(name + "_at_middles"), n + 1);
        if (n == 0) continue;
        const Values gain = all.difference(names[n - 1] + "_spread", name + "_spread");
        subs.gain = quantiles_of(gain);
        subs.gain_is_heard = Of::share_where(gain, [](double by) { return by >= heard; });
        subs.opposite_middles = Of::share_where(all.values(name + "_opposite_middles"),
                                                [](double both) { return both > 0; });
    }
    out.two_middles = quantiles_of(all.values("two_middles_spread"));
    out.four_middles = quantiles_of(all.values("four_middles_spread"));
    out.four_corners = quantiles_of(all.values("four_corners_spread"));
}

}  // namespace

Quantiles quantiles_of(std::vector<double> values) {
    std::erase_if(values, [](double value) { return std::isnan(value); });
    if (values.empty()) return {};
    std::ranges::sort(values);
    const auto at = [&](double share) {
        const double place = share * static_cast<double>(values.size() - 1);
        const auto below = static_cast<std::size_t>(place);
        const std::size_t above = std::min(below + 1, values.size() - 1);
        return values[below] +
               (place - static_cast<double>(below)) * (values[above] - values[below]);
    };
    return {at(0.1), at(0.5), at(0.9), static_cast<long long>(values.size())};
}

Share share_of(double held, long long rooms) {
    if (rooms == 0) return {};
    const double n = static_cast<double>(rooms), p = held / n;
    constexpr double z = 1.959964;
    const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
    const double half = z / (1 + z * z / n) * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n));
    return {p, rooms, middle - half, middle + half};
}

SurveyFindings findings_of(const SurveyTable& table) {
    Rooms planned;
    for (std::size_t n = 0; n < table.rows(); ++n)
        if (table["planned"][n] > 0) planned.push_back(n);
    const Of all(table, planned);
    SurveyFindings out;
    out.rooms = static_cast<long long>(table.rows());
    out.planned = static_cast<long long>(planned.size());
    put_groups(table, all, out);
    put_curves(table, all, out);
    out.textbook_loss = quantiles_of(all.difference("textbook_balance", "best_balance"));
    out.largest_good = Of::at_most(all.difference("largest_balance", "best_balance"), heard);
    out.smallest_good = Of::at_most(all.difference("smallest_balance", "best_balance"), heard);
    // Less than 0.02 is the third digit of a volume as it is written.
    out.smaller_in_room = Of::share_where(all.difference("build_qtc", "half_space_build_qtc"),
                                          [](double by) { return by > 0.02; });
    Values ratio = all.values("build_volume");
    const Values textbook = all.values("textbook_volume");
    for (std::size_t n = 0; n < ratio.size(); ++n) ratio[n] /= textbook[n];
    out.volume_ratio = quantiles_of(ratio);
    const Values before = all.range({"largest_balance", "textbook_balance", "smallest_balance"});
    const Values after = all.range(
        {"largest_equalised_balance", "textbook_equalised_balance", "smallest_equalised_balance"});
    out.size_before = quantiles_of(before), out.size_after = quantiles_of(after);
    out.size_does_not_matter = Of::at_most(after, heard);
    out.size_moves_no_unevenness =
        Of::at_most(all.range({"largest_equalised_unevenness", "textbook_equalised_unevenness",
                               "smallest_equalised_unevenness"}),
                    heard);
    out.corner_wins = Of::share_where(all.values("one_sub_in_corners"),
                                      [](double corners) { return corners > 0; });
    out.corner_loss = quantiles_of(all.values("corner_loss"));
    put_subs(all, out);
    return out;
}

std::string findings_words(const SurveyFindings& f) {
    if (f.planned == 0) return "In none of these rooms does a box fit.";
    return fmt::format(
        "By one rule, {:.0f} % of {} rooms want a smaller box than the endless floor does: Qtc "
        "{:.2f} in the middle, not {:.2f}.",
        100 * f.smaller_in_room.share, counted(f.planned), f.all.build_qtc.middle,
        f.all.half_space_build_qtc.middle);
}

std::vector<std::string> further_words(const SurveyFindings& f) {
    if (f.planned == 0) return {};
    return {
        "The rule: the smallest box within 0.5 dB of the flattest, with a Qtc of at most 1 unless "
        "the flattest has more.",
        fmt::format("Qtc 0.707 is within 0.5 dB of the flattest box in {:.0f} % of them.",
                    100 * f.all.textbook_good.share),
        fmt::format("Behind an equaliser the size of the box does not matter in {:.0f} %.",
                    100 * f.size_does_not_matter.share),
        fmt::format("A corner is the best spot for one sub in {:.0f} %.",
                    100 * f.corner_wins.share),
        fmt::format("A second sub lowers the spread by {:.1f} dB in the middle room.",
                    f.subs[1].gain.middle)};
}

}  // namespace boxroom
