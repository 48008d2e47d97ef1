#include "room_file/room_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "placement/spots.hpp"
#include "solvers/constructions.hpp"

namespace boxroom {
namespace {

/// A TOML basic string (TOML 1.0, "String"): nothing in it can end it.
std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += std::string("\\") + c;
        else if (byte < 0x20 || byte == 0x7f)
            out += fmt::format("\\u{:04x}", byte);
        else
            out += c;
    }
    return out + '"';
}

std::string point(const Point& p) {
    return fmt::format("[{}, {}, {}]", p.x, p.y, p.z);
}

/// Text so far, cut at the parts.
class Pieces {
  public:
    RoomFileParts done;
    Pieces() { done.text.emplace_back(); }
    void add(const std::string& text) { done.text.back() += text; }
    void key(const char* name, double value) { add(fmt::format("{} = {}\n", name, value)); }
    void key(const char* name, const std::optional<double>& value) {
        if (value) key(name, *value);
    }
    void part(const std::string& key, const std::string& name) {
        add(key + " = ");
        done.parts.push_back(name);
        done.text.emplace_back("\n");
    }
};

void add_driver(Pieces& out, const Scenario& s) {
    const DriverSheet& d = s.design.driver;
    out.add("\n[driver]\n");
    out.key("fs", d.fs), out.key("qts", d.qts), out.key("vas", d.vas);
    const std::pair<const char*, const std::optional<double>&> more[] = {
        {"qes", d.qes},   {"qms", d.qms}, {"re", d.re},   {"le", d.le},      {"sd", d.sd},
        {"xmax", d.xmax}, {"bl", d.bl},   {"mms", d.mms}, {"power", d.power}};
    for (const auto& [name, value] : more) out.key(name, value);
    if (s.design.amplifier.power || s.design.amplifier.load) out.add("\n[amplifier]\n");
    out.key("power", s.design.amplifier.power), out.key("load", s.design.amplifier.load);
}

void add_box(Pieces& out, const Scenario& s) {
    const EnclosureRules& e = s.design.enclosure;
    out.add("\n[box]\n");
    out.part("volume", "volume");
    out.part("filling", "filling");
    out.part("facing", "facing");
    out.key("thickness", e.thickness), out.key("extra_volume", e.extra_volume);
    out.key("feet", e.feet);
    out.add(fmt::format("proportions = [{}, {}, {}]\n", e.proportion_width, e.proportion_height,
                        e.proportion_depth));
    if (s.design.sweep)
        out.add(fmt::format("sweep = {{ qtc = [{}, {}], steps = {} }}\n", s.design.sweep->low,
                            s.design.sweep->high, s.design.sweep->steps));
    else if (s.design.volume_sweep && s.design.volume_sweep->size() > 1)
        out.add(fmt::format("sweep = {{ volume = [{}, {}], steps = {} }}\n",
                            s.design.volume_sweep->front(), s.design.volume_sweep->back(),
                            s.design.volume_sweep->size()));
}

void add_places(Pieces& out, const Scenario& s) {
    for (std::size_t i = 0; i < s.seats.size(); ++i) {
        out.add("\n[[seat]]\nname = " + quoted(s.seats[i].name) + "\n");
        out.part("at", "seat " + std::to_string(i));
        out.key("weight", s.seats[i].weight);
    }
    out.add("\n[[sub]]\nname = \"sub\"\n");
    out.part("at", "sub");
    out.add("\n[spots]\n");
    out.key("step", s.wanted.spots.step), out.key("gap", s.wanted.spots.gap);
    out.key("seat_clearance", s.wanted.spots.seat_clearance);
    if (s.wanted.spots.tallest < 1e3) out.key("tallest", s.wanted.spots.tallest);
    for (const KeepOut& k : s.wanted.keep_outs)
        out.add(fmt::format("\n[[keep_out]]\nname = {}\nfrom = [{}, {}]\nto = [{}, {}]\n",
                            quoted(k.name), k.x0, k.y0, k.x1, k.y1));
}

void add_mains(Pieces& out, const Scenario& s) {
    if (s.placed.crossover) {
        out.add("\n[crossover]\n");
        out.key("frequency", s.placed.crossover->frequency);
        out.add(fmt::format("type = \"{}\"\norder = {}\n", crossover_name(s.placed.crossover->kind),
                            s.placed.crossover->order));
    }
    for (const MainSpeaker& m : s.placed.mains) {
        out.add("\n[[main]]\nname = " + quoted(m.name) + "\nat = " + point(m.at) + "\n");
        out.key("gain", m.dial.gain_db), out.key("delay", m.dial.delay);
        out.add(m.dial.polarity < 0 ? "polarity = \"-\"\n" : "");
        out.key("sensitivity", m.sensitivity), out.key("low_end", m.low_end);
        out.add(fmt::format("low_end_order = {}\nhigh_pass = {}\n", m.low_end_order, m.high_pass));
    }
}

/// The band and points an octave the frequencies come from, or the frequencies themselves.
std::string analysis_keys(const Scenario& s) {
    const auto& f = s.acoustics.frequency;
    if (f.size() > 1) {
        const Band band{f.front(), std::max(f.back(), s.judgement.target.band.high)};
        const int per_octave = static_cast<int>(std::lround(1 / std::log2(f[1] / f[0])));
        if (per_octave >= 3 && logarithmic_grid(band, per_octave) == f)
            return fmt::format("band = [{}, {}]\nper_octave = {}\n", band.low, band.high,
                               per_octave);
    }
    return fmt::format("frequencies = [{}]\n", fmt::join(f, ", "));
}

void add_judgement(Pieces& out, const Scenario& s) {
    out.add(fmt::format("\n[target]\nband = [{}, {}]\n", s.judgement.target.band.low,
                        s.judgement.target.band.high));
    out.key("slope", s.judgement.target.slope),
        out.key("indifference", s.judgement.target.indifference);
    out.add("\n[score]\n");
    out.key("spread", s.judgement.weights.spread),
        out.key("unevenness", s.judgement.weights.unevenness);
    out.key("balance", s.judgement.weights.balance), out.key("level", s.judgement.weights.level);
    out.add("\n[map]\n");
    out.key("frequency", s.wanted.map_frequency);
    out.add("\n[analysis]\n" + analysis_keys(s));
    if (s.placed.cone_load) out.add("cone_load = true\n");
}

std::string value_of(const Scenario& s, const std::string& part) {
    if (part == "volume") return fmt::format("{}", s.design.box_volume.value_or(0));
    if (part == "filling") return fmt::format("{}", s.design.filling);
    if (part == "facing") return quoted(facing_name(s.design.enclosure.facing));
    if (part == "sub") return s.placed.subs.empty() ? "" : point(s.placed.subs[0].at);
    const auto index = static_cast<std::size_t>(std::stoi(part.substr(part.find(' ') + 1)));
    if (part.starts_with("seat")) return point(s.seats[index].at);
    return wall_toml(s.acoustics.room.walls[index], s.acoustics.room.wall_description[index]);
}

}  // namespace

std::string wall_toml(const Wall& wall, const std::string& description) {
    if (std::ranges::any_of(constructions(), [&](const auto& c) { return c.name == description; }))
        return quoted(description);
    std::vector<std::string> branches;
    for (const Branch& b : wall.branches)
        branches.push_back(fmt::format("{{ resistance = {}, mass = {}, stiffness = {} }}",
                                       b.resistance, b.mass, b.stiffness));
    return fmt::format("[{}]", fmt::join(branches, ", "));
}

RoomFileParts room_file_parts(const Scenario& s) {
    Pieces out;
    out.add("# Written by the live report; bare numbers are SI.\n");
    out.add("title = " + quoted(s.title) + "\n\n[air]\n");
    out.key("speed_of_sound", s.acoustics.air.speed_of_sound),
        out.key("density", s.acoustics.air.density);
    out.add("\n[room]\n");
    out.key("width", s.acoustics.room.width), out.key("length", s.acoustics.room.length);
    out.key("height", s.acoustics.room.height);
    out.add("\n[walls]\n");
    for (int w = 0; w < 6; ++w) out.part(wall_names[w], "wall " + std::to_string(w));
    add_driver(out, s);
    add_box(out, s);
    add_places(out, s);
    add_mains(out, s);
    add_judgement(out, s);
    return out.done;
}

std::string room_file_text(const Scenario& scenario) {
    const RoomFileParts cut = room_file_parts(scenario);
    std::string out = cut.text[0];
    for (std::size_t i = 0; i < cut.parts.size(); ++i)
        out += value_of(scenario, cut.parts[i]) + cut.text[i + 1];
    return out;
}

}  // namespace boxroom
