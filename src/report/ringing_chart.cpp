#include "report/ringing_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"

namespace boxroom {
namespace {

// From what is heard fully to what is nearly gone.
const char* const shades[] = {"#0b4f5c", "#3d7f88", "#86b3b4", "#cfe2de"};
constexpr std::size_t most_marks = 4;

/// The plot's edges in the SVG's units.
struct DecayPanel {
    double left, right, top, bottom;
    const char* title;
    const std::vector<std::vector<double>>* contours;
};

struct Scales {
    const DecayPicture& picture;
    double longest;  ///< shown [s]
    double x(const DecayPanel& p, double f) const {
        const auto& grid = picture.frequency;
        return p.left + (p.right - p.left) * std::log(f / grid.front()) /
                            std::log(grid.back() / grid.front());
    }
    double y(const DecayPanel& p, double t) const {
        return p.bottom - (p.bottom - p.top) * std::min(t / longest, 1.0);
    }
};

/// A little beyond the longest that is heard of any note, before or after.
double shown(const DecayPicture& picture) {
    double longest = 0.1;
    for (const auto* side : {&picture.before, &picture.after})
        for (const auto& contour : *side)
            for (const double t : contour) longest = std::max(longest, t);
    const double step = axis_step(longest / 5);
    return std::min(std::ceil(longest / step) * step, picture.longest);
}

std::string grid_lines(const DecayPanel& p, const Scales& scales) {
    std::string svg;
    for (const double f : {16., 20., 30., 40., 50., 60., 80., 100., 150., 200.}) {
        const auto& grid = scales.picture.frequency;
        if (f < grid.front() || f > grid.back()) continue;
        const double x = scales.x(p, f);
        svg += fmt::format("<path class=\"grid\" d=\"M{0:.1f} {1:g}V{2:g}\"/>", x, p.top,
                           p.bottom + 4);
        if (f != 60. && f != 16. && f != 150.)
            svg += fmt::format("<text x=\"{:.1f}\" y=\"{:g}\" text-anchor=\"middle\">{:g}</text>",
                               x, p.bottom + 19, f);
    }
    const double step = axis_step(scales.longest / 5);
    for (double t = 0; t <= scales.longest + step / 2; t += step) {
        const double y = scales.y(p, t);
        svg += fmt::format(
            "<path class=\"grid\" d=\"M{0:g} {1:.1f}H{2:g}\"/><text x=\"{3:g}\" y=\"{4:.1f}\" "
            "text-anchor=\"end\">{5:.{6}f}</text>",
            p.left, y, p.right, p.left - 6, y + 4.5, t, step < 0.095 ? 2 : 1);
    }
    return svg;
}

std::string band(const DecayPanel& p, const Scales& scales, std::size_t k) {
    std::string path;
    const auto& grid = scales.picture.frequency;
    for (std::size_t f = 0; f < grid.size(); ++f)
        path += fmt::format("{}{:.1f} {:.1f}", f ? 'L' : 'M', scales.x(p, grid[f]),
                            scales.y(p, (*p.contours)[k][f]));
    return fmt::format("<path fill=\"{}\" d=\"{}L{:g} {:g}H{:g}z\"/>", shades[k % 4], path, p.right,
                       p.bottom, p.left);
}

std::string note_marks(const DecayPanel& p, const Scales& scales,
                       const std::vector<RingingNote>& notes) {
    std::string svg;
    const auto& grid = scales.picture.frequency;
    std::size_t marked = 0;
    for (const RingingNote& note : notes) {
        const double f = note.frequency;
        if (!note.in_band || f < grid.front() || f > grid.back()) continue;
        if (++marked > most_marks) break;
        svg += fmt::format("<path class=\"set\" fill=\"#b3471b\" d=\"M{:.1f} {:g}l-5-8h10z\"/>",
                           scales.x(p, f), p.top);
    }
    return svg;
}

std::string draw_panel(const DecayPanel& p, const Scales& scales,
                       const std::vector<RingingNote>& notes) {
    std::string svg;
    for (std::size_t k = p.contours->size(); k-- > 0;) svg += band(p, scales, k);
    svg += grid_lines(p, scales) + note_marks(p, scales, notes);
    return svg + fmt::format(
                     "<path class=\"frame\" d=\"M{0:g} {1:g}V{2:g}H{3:g}\"/><text x=\"{3:g}\" "
                     "y=\"{4:g}\" text-anchor=\"end\">{7}</text><text x=\"{5:g}\" y=\"{6:g}\" "
                     "text-anchor=\"middle\">frequency, Hz</text><text transform=\"translate({8:g} "
                     "{9:g}) rotate(-90)\" text-anchor=\"middle\">time, s</text>",
                     p.left, p.top, p.bottom, p.right, p.top + 16, (p.left + p.right) / 2,
                     p.bottom + 37, p.title, p.left - 36, (p.top + p.bottom) / 2);
}

std::string legend(const DecayPicture& picture) {
    std::string out = "<ul class=\"legend\">";
    for (std::size_t k = 0; k < picture.below_db.size(); ++k)
        out += fmt::format(
            "<li><svg class=\"sample\" viewBox=\"0 0 34 14\" aria-hidden=\"true\"><rect "
            "width=\"34\" "
            "height=\"14\" fill=\"{}\"/></svg>{}</li>",
            shades[k % 4],
            k == 0 ? fmt::format("less than {:g} dB under the mean level", picture.below_db[0])
                   : fmt::format("{:g} to {:g} dB under it", picture.below_db[k - 1],
                                 picture.below_db[k]));
    return out +
           "<li><svg class=\"sample\" viewBox=\"0 0 34 14\" aria-hidden=\"true\"><path "
           "fill=\"#b3471b\" d=\"M17 12l-5-8h10z\"/></svg>a note that hangs</li></ul>";
}

}  // namespace

std::string ringing_chart(const DecayPicture& picture, const std::vector<RingingNote>& notes,
                          const std::string& words) {
    if (!picture.known()) return "";
    const Scales scales{picture, shown(picture)};
    const bool both = !picture.after.empty();
    const char* const first = both ? "before the equaliser" : "";
    std::vector<DecayPanel> wide{{58, both ? 388. : 748., 22, 246, first, &picture.before}};
    std::vector<DecayPanel> narrow{{46, 344, 22, 216, first, &picture.before}};
    if (both) {
        wide.push_back({440, 748, 22, 246, "after", &picture.after});
        narrow.push_back({46, 344, 290, 484, "after", &picture.after});
    }
    const auto drawing = [&](const char* name, double width, double height,
                             const std::vector<DecayPanel>& panels) {
        std::string svg = fmt::format(
            "<svg class=\"chart {}\" viewBox=\"0 0 {:g} {:g}\" role=\"img\" "
            "aria-labelledby=\"ringing-title ringing-caption\">",
            name, width, height);
        for (const DecayPanel& panel : panels) svg += draw_panel(panel, scales, notes);
        return svg + "</svg>";
    };
    return "<figure id=\"ringing\"><h3 id=\"ringing-title\">How long each note hangs</h3><p "
           "class=\"caption\" id=\"ringing-caption\">" +
           escape_html(words) + " Seen here: a short burst of each note at " +
           isolated(picture.seat) + ", and how long it is heard.</p><div>" +
           drawing("wide", 760, 292, wide) + drawing("narrow", 358, both ? 530. : 262., narrow) +
           "</div>" + legend(picture) + "</figure>\n";
}

}  // namespace boxroom
