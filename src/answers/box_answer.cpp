#include "answers/box_answer.hpp"

#include <fmt/format.h>

namespace boxroom {
namespace {

const char* verdict(double qtc) {
    if (qtc > 1.2) return "to be avoided: it rings and is loud before it is deep";
    if (qtc > 1.0) return "poor: a hump and a long ring";
    if (qtc > 0.75) return "a little hump, smaller box";
    if (qtc > 0.65) return "maximally flat, the textbook choice";
    return "early but gentle roll-off, quick to settle";
}

nlohmann::ordered_json box_json(const ClosedBox& box) {
    return {{"fc_hz", box.fc},
            {"qtc", box.qtc},
            {"volume_l", box.volume * 1e3},
            {"f3_hz", box.f3()},
            {"peak_db", box.peak_db()},
            {"apparent_volume_l", box.apparent_volume * 1e3},
            {"overshoot_percent", 100 * box.displacement_overshoot()}};
}

std::string one_box(const ClosedBox& box, Units units) {
    return fmt::format(
        "volume  {} net ({} apparent)\nQtc     {:.2f}: {}\nfc      {:.1f} Hz\nF3      {:.1f} "
        "Hz\n"
        "peak    {:.1f} dB\ncone    overshoots a step by {:.0f} %\n",
        format_volume(box.volume, units), format_volume(box.apparent_volume, units), box.qtc,
        verdict(box.qtc), box.fc, box.f3(), box.peak_db(), 100 * box.displacement_overshoot());
}

/// A line a box.
std::string side_by_side(const std::vector<ClosedBox>& boxes, Units units) {
    std::string text = fmt::format("{:>9}  {:>9}  {:>5}  {:>7}  {:>7}  {:>7}  {:>9}\n", "volume",
                                   "apparent", "Qtc", "fc", "F3", "peak", "overshoot");
    for (const ClosedBox& box : boxes)
        text += fmt::format(
            "{:>9}  {:>9}  {:>5.2f}  {:>4.1f} Hz  {:>4.1f} Hz  {:>4.1f} dB  {:>7.0f} %"
            "   {}\n",
            format_volume(box.volume, units), format_volume(box.apparent_volume, units), box.qtc,
            box.fc, box.f3(), box.peak_db(), 100 * box.displacement_overshoot(), verdict(box.qtc));
    return text;
}

}  // namespace

Answer box_answer(const Driver& driver, const Air& air, const std::vector<ClosedBox>& boxes,
                  Units units) {
    Answer answer;
    answer.json = box_json(boxes.front());
    answer.json["boxes"] = nlohmann::ordered_json::array();
    for (const ClosedBox& box : boxes) {
        answer.json["boxes"].push_back(box_json(box));
        answer.json["boxes"].back()["verdict"] = verdict(box.qtc);
    }
    answer.text = boxes.size() == 1 ? one_box(boxes.front(), units) : side_by_side(boxes, units);
    if (const auto eta = reference_efficiency(driver, air)) {
        answer.json["efficiency"] = *eta;
        answer.json["spl_1w_1m_db"] = *spl_1w_1m_db(driver, air);
        answer.text += fmt::format("level   {:.1f} dB for 1 W at 1 m in half space\n",
                                   *spl_1w_1m_db(driver, air));
    }
    return answer;
}

}  // namespace boxroom
