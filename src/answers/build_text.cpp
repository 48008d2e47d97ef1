#include "answers/build_text.hpp"

#include <fmt/format.h>

#include <numbers>

#include "base/workshop_units.hpp"

namespace boxroom {
namespace {

constexpr double foot3 = 0.3048 * 0.3048 * 0.3048;

/// The sum, each line rounded so that the lines add up in litres and in cubic feet.
std::string volumes(const BoxBuild& b, Units units) {
    std::vector<double> litres, feet;
    for (const VolumeItem& item : b.volumes) {
        litres.push_back(item.volume * 1e3);
        feet.push_back(item.volume / foot3);
    }
    litres = rounded_parts(litres, 0.1), feet = rounded_parts(feet, 0.001);
    std::string out;
    double sum_litres = 0, sum_feet = 0;
    const auto line = [&](const std::string& name, double l, double f, const std::string& rest) {
        out += units == Units::metric
                   ? fmt::format("  {:<12}{:8.1f} L  {:8.3f} ft3  {}\n", name, l, f, rest)
                   : fmt::format("  {:<12}{:8.3f} ft3  {:8.1f} L  {}\n", name, f, l, rest);
    };
    for (std::size_t n = 0; n < b.volumes.size(); ++n) {
        line((n ? "+ " : "  ") + b.volumes[n].name, litres[n], feet[n], b.volumes[n].rule);
        sum_litres += litres[n], sum_feet += feet[n];
    }
    line("= gross", sum_litres, sum_feet, "inside the panels");
    return out;
}

std::string sides(const Sides& box, Units units) {
    return fmt::format("{} wide x {} deep x {} high", format_both(box.width, units),
                       format_both(box.depth, units), format_both(box.height, units));
}

std::string cut_list(const BoxBuild& b, Units units) {
    const auto both = [&](double v) {
        const std::string mm = format_millimetres(v), in = format_sixteenths(v);
        return units == Units::metric ? fmt::format("{:>9}  {:<11}", mm, in)
                                      : fmt::format("{:>11}  {:<9}", in, mm);
    };
    std::string out = fmt::format("  {:<3}{:>5}  {:<36}{:^22}{:^22}  {}\n", "", "count", "piece",
                                  "length", "width", "edges");
    int line = 0;
    for (const Panel& p : b.panels) {
        out += fmt::format("  {:<3}{:>5}  {:<36}{}{}  {}\n", piece_letter(line++), p.count, p.name,
                           both(p.length), both(p.width), p.edges);
        if (p.window)
            out +=
                fmt::format("            window in its middle: {} x {}\n",
                            format_both((*p.window)[0], units), format_both((*p.window)[1], units));
    }
    return out;
}

std::string holes(const BoxBuild& b, Units units) {
    std::string out;
    const char* panel = b.facing == Facing::up     ? "top"
                        : b.facing == Facing::down ? "bottom"
                                                   : "front";
    if (b.cut_out)
        out += fmt::format("driver    hole of {} in the middle of the {}{}\n",
                           format_both(*b.cut_out, units), panel,
                           b.cut_out_given ? "" : " (an estimate: measure first)");
    if (b.amplifier_cut_out)
        out += fmt::format("amplifier hole of {} x {} (width x height) in the back\n",
                           format_both((*b.amplifier_cut_out)[0], units),
                           format_both((*b.amplifier_cut_out)[1], units));
    return out;
}

std::string sheets(const BoxBuild& b, Units units) {
    const CuttingPlan& c = b.cutting;
    return fmt::format(
        "sheets    {} of {} x {}, saw cut {}; {:.0f} % waste (largest piece left {} x {})\n",
        c.sheets, format_both(c.sheet_length, units), format_both(c.sheet_width, units),
        format_both(c.kerf, units), 100 * c.waste, format_both(c.largest_offcut[0], units),
        format_both(c.largest_offcut[1], units));
}

/// What stuffing may do: practice from 10 to 30 %, 40 % the limit of physics.
std::string filling(const BoxBuild& b, Units units) {
    std::string out = fmt::format(
        "filling   reckoned as {:.2f} times the net volume ({}); Qtc by gain:", b.filling_gain,
        format_litres(b.apparent, units));
    for (const auto& [gain, volume, qtc] : b.filling_steps)
        out += fmt::format("{} {:.1f}: {:.2f}", gain > 1 ? "," : "", gain, qtc);
    return out + "\n";
}

}  // namespace

std::string build_text(const BoxBuild& b, Units units) {
    std::string out =
        fmt::format("Box of {} net, Qtc {:.2f}, fc {:.1f} Hz, filled to seem {}\n\n",
                    format_litres(b.net, units), b.qtc, b.fc, format_litres(b.apparent, units));
    out += volumes(b, units);
    out +=
        fmt::format("\ninside    {}\noutside   {}\nboard     {} {}, {} joints{}\n",
                    sides(b.inner, units), sides(b.outer, units), format_both(b.thickness, units),
                    b.material, b.joint, b.double_front ? ", double front" : "");
    out += holes(b, units) + sheets(b, units);
    out += fmt::format("weight    about {}; centre of gravity {} above the floor\n",
                       format_weight(b.weight, units), format_both(b.centre_of_gravity.z, units));
    out += fmt::format(
        "air       resonates inside at {:.0f}, {:.0f} and {:.0f} Hz (width, depth, height)\n",
        b.internal_modes[0], b.internal_modes[1], b.internal_modes[2]);
    out += filling(b, units);
    out += "\nCut list\n" + cut_list(b, units);
    out += "\n";
    for (const std::string& text : b.remarks) out += "- " + text + "\n";
    out += "\nTake care\n";
    for (const std::string& text : b.cautions) out += "- " + text + "\n";
    return out;
}

std::string cut_list_csv(const BoxBuild& b) {
    std::string csv =
        "letter,piece,count,length_mm,width_mm,length_in,width_in,thickness_mm,edges\r\n";
    int line = 0;
    for (const Panel& p : b.panels)
        csv +=
            fmt::format("{},{},{},{:.1f},{:.1f},{},{},{:.2f},\"{}\"\r\n", piece_letter(line++),
                        p.name, p.count, p.length * 1e3, p.width * 1e3, format_sixteenths(p.length),
                        format_sixteenths(p.width), b.thickness * 1e3, p.edges);
    return csv;
}

}  // namespace boxroom
