#include "room_file/box_reader.hpp"

#include "room_file/driver_reader.hpp"

#include <cmath>
#include <sstream>
#include <utility>
#include <vector>

namespace boxroom {

namespace {

void read_facing(TableReader& box, const std::string& word, Facing& wanted) {
    if (const auto facing = facing_named(word)) {
        wanted = *facing;
        return;
    }
    box.fault("facing", "[box] facing is \"" + word + "\", which is no direction",
              "write inward, left, right, front, back, up or down");
}

void read_sweep(TableReader& sweep, const ReadContext& context, Design& design) {
    const auto qtc = sweep.numbers("qtc", Quantity::plain, 2, {0.1, 5, "between 0.1 and 5"});
    const auto volume = sweep.numbers("volume", Quantity::volume, 2, net_volume);
    const int steps = sweep.whole_number("steps", 2, 1000).value_or(29);
    if (sweep.has("qtc") == sweep.has("volume"))
        sweep.fault("qtc", "[box] sweep wants either qtc or volume",
                    "write { qtc = [0.5, 1.2], steps = 29 } or { volume = [\"10 L\", \"60 L\"], "
                    "steps = 29 }");
    sweep.close();
    if (qtc && !((*qtc)[0] < (*qtc)[1]))
        sweep.fault("qtc", "[box] sweep qtc does not rise", "write the smaller Qtc first");
    else if (qtc && context.driver_known && !((*qtc)[0] > design.driver.qts)) {
        std::ostringstream mend;
        mend << "start above the driver's Qts of " << design.driver.qts;
        sweep.fault("qtc", "[box] sweep starts at a Qtc that no closed box can give this driver",
                    mend.str());
    } else if (qtc) {
        design.sweep = QtcSweep{(*qtc)[0], (*qtc)[1], steps};
    }
    if (!volume) return;
    const double low = (*volume)[0], high = (*volume)[1];
    if (!(low < high)) {
        sweep.fault("volume", "[box] sweep volume does not rise", "write the smaller volume first");
        return;
    }
    // Even ratios: what a litre does depends on how many there are already.
    design.volume_sweep.emplace();
    for (int i = 0; i < steps; ++i)
        design.volume_sweep->push_back(low * std::pow(high / low, double(i) / (steps - 1)));
}

}  // namespace

void read_box(TableReader& file, const ReadContext& context, Design& design) {
    TableReader box = file.table("box", "[box]");
    EnclosureRules& e = design.enclosure;
    if (const auto name = box.text("driver")) choose_named_driver(box, *name, design);
    design.box_volume = box.optional("volume", Quantity::volume, net_volume);
    design.largest = box.optional("largest", Quantity::volume, net_volume);
    design.heaviest =
        box.optional("heaviest", Quantity::mass, {0.1, 1000, "between 100 g and 1000 kg"});
    design.filling = box.number("filling", Quantity::plain, {1, 1.4, "between 1 and 1.4"}, 1).value;
    e.thickness = box.number("thickness", Quantity::length, {0.003, 0.1, "between 3 mm and 100 mm"},
                             e.thickness)
                      .value;
    e.extra_volume = box.number("extra_volume", Quantity::volume, {0, 1, "between 0 L and 1000 L"},
                                e.extra_volume)
                         .value;
    e.feet = box.number("feet", Quantity::length, {0, 1, "between 0 m and 1 m"}, e.feet).value;
    if (const auto sides =
            box.numbers("proportions", Quantity::plain, 3, {0.05, 20, "between 0.05 and 20"})) {
        e.proportion_width = (*sides)[0];
        e.proportion_height = (*sides)[1];  // the file says width, height, depth
        e.proportion_depth = (*sides)[2];
    }
    if (const auto facing = box.text("facing")) read_facing(box, *facing, e.facing);
    if (box.has("sweep")) {
        TableReader sweep = box.table("sweep", "[box] sweep");
        if (sweep.present()) read_sweep(sweep, context, design);
    }
    box.close();
}

}  // namespace boxroom
