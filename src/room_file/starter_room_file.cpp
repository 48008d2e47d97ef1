#include "room_file/room_file.hpp"
#include "solvers/constructions.hpp"
#include "woofer/materials.hpp"

namespace boxroom {
namespace {

const char* const before_walls =
    R"(# A room file: change the numbers to those of your room and driver.
#
# Numbers with units stand in quotes: "4.20 m", "13 ft 5 in", "38 L", "1.3 ft3", "27 Hz", "8.5 mm".
# A bare number is SI (metres, cubic metres, hertz ...). Metric and imperial may be mixed.
# A line that begins with # is a remark; take the # away to use what it shows.
# x runs from the left wall, y from the front wall (the one the listeners face), z from the floor.
title = "My room"

# [air]                          # as at 20 C, if left out
# speed_of_sound = "343.2 m/s"
# density = "1.2041 kg/m3"

[room]
width = "{{4.20 m|13 ft 10 in}}"                 # x
length = "{{5.60 m|18 ft 4 in}}"                # y
height = "{{2.50 m|8 ft 2 in}}"                # z
contents = "furnished"           # or bare, sparse, soft; or { absorption_area = "{{6 m2|65 ft2}}" } of treatment
# floor_plan = [["{{0 m|0 ft}}", "{{0 m|0 ft}}"], ["{{4.2 m|14 ft}}", "{{0 m|0 ft}}"], ["{{4.2 m|14 ft}}", "{{3 m|10 ft}}"], ["{{3 m|10 ft}}", "{{3 m|10 ft}}"], ["{{3 m|10 ft}}", "{{5.6 m|18 ft}}"], ["{{0 m|0 ft}}", "{{5.6 m|18 ft}}"]]
# Such a list of corners, going round, takes the place of width and length. Its walls are edge_1
# (from the first corner to the second), edge_2 ..., or `edges` for all that have no line.

# What each wall is made of. One of these names:
)";

const char* const after_walls =
    R"(# or a random-incidence absorption coefficient:  left = { absorption = 0.05 }
# or the wall as a damped mass on a spring (Pa s/m, kg/m2, Pa/m; mass and stiffness may be left out):
#                                 left = { resistance = 2200, mass = 11, stiffness = 1.8e6 }
# or a list of those, side by side:  left = [{ resistance = 9000 }, { resistance = 2200, mass = 11 }]
# A wall with a window or a door in it is a list: what it is made of, then each part with its area.
[walls]
left = "brick, plastered"
right = "plasterboard on studs"
front = ["brick, plastered", { made_of = "window glass, double", area = "{{2.4 m2|26 ft2}}" }]
back = ["plasterboard on studs", { made_of = "solid door", area = "{{1.8 m2|20 ft2}}" }]
floor = "wood floor on joists"
ceiling = "plasterboard on studs"

# Furniture, a pillar: a cuboid with its own surface. Rooms with blocks, openings or a floor_plan are
# solved by elements, which takes some seconds, once.
# [[block]]
# name = "wardrobe"
# from = ["{{3.2 m|10 ft}}", "{{0 m|0 ft}}", "{{0 m|0 ft}}"]    # the corner nearest to the left, the front and the floor
# to = ["{{4.2 m|13 ft 10 in}}", "{{0.6 m|2 ft}}", "{{2.1 m|7 ft}}"]
# surface = "wood panelling"

# A room next door, in the coordinates of this one, and the door to it. A wall of {{10 cm|4 in}} or so must
# stay between them. An opening without `space` leads outside.
# [[space]]
# name = "hall"
# from = ["{{4.3 m|14 ft 2 in}}", "{{0 m|0 ft}}", "{{0 m|0 ft}}"]
# to = ["{{5.8 m|19 ft}}", "{{5.6 m|18 ft 4 in}}", "{{2.5 m|8 ft 2 in}}"]
# walls = { absorption = 0.10 }     # or left, right, front, back, floor, ceiling one by one
# [[opening]]
# name = "door to the hall"
# from = ["{{4.2 m|13 ft 10 in}}", "{{4.7 m|15 ft}}", "{{0 m|0 ft}}"]  # a flat rectangle on a wall, the floor or the ceiling
# to = ["{{4.2 m|13 ft 10 in}}", "{{5.5 m|17 ft 8 in}}", "{{2.0 m|6 ft 8 in}}"]
# space = "hall"
# state = "either"                 # "open", "shut", or both: then the worse day counts

# From the driver's data sheet. The first three are enough for the shape of the response; with sd, re
# and qes (or bl, mms) the levels are absolute. This driver is invented. Several to choose from are
# written as [[driver]], each with a name and, if you like, a price.
[driver]
fs = "25 Hz"                     # resonance in free air
qts = 0.42                       # total Q
vas = "{{55 L|1.94 ft3}}"                     # volume of air as stiff as the suspension
qes = 0.462
qms = 4.62
re = "3.5 ohm"                   # voice coil
sd = "{{340 cm2|52.7 in2}}"                   # cone
xmax = "{{12 mm|0.47 in}}"                   # one way
power = "300 W"
# le = "1.5 mH"
# bl = "12 T m"                  # follows from the others if left out
# mms = "120 g"                  # likewise

[amplifier]                      # for the loudest clean level
power = "300 W"
load = "4 ohm"

[box]
volume = "{{35 L|1.24 ft3}}"                  # net; the box for `listen`, `map` and `rank`
filling = 1.15                   # apparent gain: 1 empty, 1.10 to 1.30 filled, at most 1.40
sweep = { qtc = [0.5, 1.2], steps = 29 }                # the boxes that `plan` tries, or
# sweep = { volume = ["{{15 L|0.5 ft3}}", "{{90 L|3.2 ft3}}"], steps = 29 }     # in even ratios
# largest = "{{40 L|1.4 ft3}}"               # net: `plan` builds no larger one
# heaviest = "25 kg"             # finished: nor a heavier one
thickness = "{{19 mm|0.75 in}}"              # panels
# extra_volume = "{{3 L|0.1 ft3}}"           # taken by driver, amplifier and bracing; estimated if left out
# proportions = [1.05, 1.2, 1]   # inside: width of the driver's panel, height, depth
feet = "{{0 mm|0 in}}"                    # from the floor to the bottom of the box
facing = "inward"                # or left, right, front, back, up, down: where the driver looks

[build]                          # how `build` makes the box; every key may be left out
material = "MDF"                 # @MATERIALS@
joint = "butt"                   # or "mitred": all edges at 45 degrees
double_front = false             # true: a second layer on the driver's panel
braces = 1                       # window braces behind the driver
cleats = true                    # strips in the four corners
sheet = ["{{2440 mm|8 ft}}", "{{1220 mm|4 ft}}"]   # as sold; 8 x 4 ft if left out
kerf = "{{3.2 mm|0.125 in}}"                  # width of the saw cut
grain = false                    # true: no piece is turned on the sheet
filling_density = "16 kg/m3"     # of the stuffing as packed
# density = "740 kg/m3"          # of the board, if you have weighed it
# driver_cut_out = "{{236 mm|9.3 in}}"      # diameter of the hole; estimated from sd if left out
# driver_frame = "{{265 mm|10.4 in}}"        # outer diameter
# driver_depth = "{{145 mm|5.7 in}}"        # behind the front of its panel
# amplifier_cut_out = ["{{200 mm|8 in}}", "{{250 mm|10 in}}"]    # width and height of the hole in the back
# driver_volume = "{{1.4 L|0.05 ft3}}"        # what each takes from the air; estimated if left out
# amplifier_volume = "{{2.0 L|0.07 ft3}}"     # {{0 L|0 ft3}}: the amplifier stands outside
# bracing_volume = "{{1.2 L|0.04 ft3}}"
# driver_mass = "5.5 kg"         # for the weight; estimated if left out
# amplifier_mass = "4 kg"

[[seat]]                         # one for each head
name = "sofa, left"
at = ["{{1.60 m|5 ft 3 in}}", "{{3.90 m|12 ft 10 in}}", "{{1.10 m|3 ft 7 in}}"]

[[seat]]
name = "sofa, right"
at = ["{{2.60 m|8 ft 6 in}}", "{{3.90 m|12 ft 10 in}}", "{{1.10 m|3 ft 7 in}}"]
weight = 1.0                     # how much this seat matters; 1 if left out

[[sub]]                          # for `listen` and `map`: `at` is the middle of the cone
name = "front left corner"
at = ["{{0.40 m|16 in}}", "{{0.45 m|18 in}}", "{{0.22 m|9 in}}"]
# Instead of `at`: box_at = ["{{0.40 m|16 in}}", "{{0.25 m|10 in}}"], the centre of the box on the floor,
# and facing = "back", where its driver looks.
gain = "0 dB"
delay = "0 ms"
polarity = "+"                   # or "-"

# [equaliser]                    # one for all subs
# available = true               # true: size costs level and power, not balance; false: there is none
# filters = [{ type = "peaking", frequency = "41.5 Hz", gain = "-6 dB", q = 4.3 }]

# [crossover]                    # what divides subs and main loudspeakers, for their sum in `listen`;
#                                # for `build` the highest frequency played
# frequency = "80 Hz"
# type = "linkwitz-riley"        # or "butterworth"
# order = 4                      # or 2

# [[main]]                       # one for each main loudspeaker; all play the same
# name = "main left"
# at = ["{{1.00 m|3 ft 3 in}}", "{{0.60 m|2 ft}}", "{{0.90 m|3 ft}}"]    # the middle of its bass cone
# sensitivity = "87 dB"          # at 1 m, 2.83 V, free field; as loud as a sub if left out
# low_end = "45 Hz"              # where it is 3 dB down by itself; flat if left out
# low_end_order = 2              # 2 closed box, 4 vented
# high_pass = true               # false: it plays full range
# gain = "0 dB"                  # and delay, polarity as for a sub

[spots]                          # where `rank` and `plan` may put a box
step = "{{0.10 m|4 in}}"
gap = "{{0.05 m|2 in}}"                   # box to wall
seat_clearance = "{{0.50 m|20 in}}"        # box to the point under a seat
# tallest = "{{0.80 m|32 in}}"             # the highest box that may stand here
# way = "{{0.70 m|28 in}}"                 # kept free from each door (an [[opening]]) to each seat

[[keep_out]]                     # a rectangle of floor where no box may stand
name = "door swing"
from = ["{{3.30 m|10 ft 10 in}}", "{{4.60 m|15 ft 2 in}}"]      # x, y of the corner nearer to the left and front walls
to = ["{{4.20 m|13 ft 10 in}}", "{{5.60 m|18 ft 4 in}}"]

[target]
band = ["20 Hz", "120 Hz"]       # judged
slope = "0 dB/oct"               # the wanted tilt, or instead of it points:
#                                # curve = [["20 Hz", "6 dB"], ["80 Hz", "0 dB"]]
# level = "105 dB"               # wanted loudest level at the seats: `plan` takes a box
# down_to = "25 Hz"              # ... that reaches it down to here
indifference = "0.5 dB"          # a difference of balance too small to choose a box by

[score]                          # how the spots are ranked: weights, 0 or more
spread = 1.0                     # the seats differ from each other
unevenness = 0.5                 # peaks and dips
balance = 0.5                    # the broad tilt
level = 0.1                      # decibels below the loudest spot
ringing = 0.5                    # seconds that a mode hangs at a seat beyond what listeners notice

# [search]
# subs = [1, 2, 4]               # among how many subs `rank` and `plan` choose; `plan` else of 1 and 2
# volumes = ["{{13 L|0.5 ft3}}", "{{25 L|0.9 ft3}}"]     # sets of several subs may mix boxes of these net volumes

# [settings]                     # what the amplifiers of several subs offer
# gain_step = "0.5 dB"
# delay_step = "0.1 ms"
# lowest_gain = "-12 dB"
# longest_delay = "20 ms"

# [robustness]                   # how wrong this file may be, either way
# draws = 500
# seed = 1
# seat = "{{10 cm|4 in}}"
# sub = "{{5 cm|2 in}}"
# room = "{{2 cm|1 in}}"
# wall = 2                       # factor on what walls and contents absorb, known by name alone
# driver = 0.10                  # share of fs: suspension twice that, mass, coil, magnet half

[map]
frequency = "40 Hz"              # of the level map

[analysis]                       # calculated
band = ["10 Hz", "200 Hz"]
# per_octave = 48                # points, evenly; left out: 48, and more round the room's modes
# frequencies = [20, 25, "31.5 Hz", 40]    # instead of the band
# cone_load = true               # count what the room's pressure does to the cones of placed subs
)";

/// Every {{metric|imperial}} as one of the two. The remark of a line stays in its column, where
/// there is room for that.
std::string in_units(const std::string& text, Units units) {
    std::string out;
    std::size_t at = 0;
    int lost = 0;  // by how much the line so far is shorter than its metric self
    const auto plain = [&](const std::string& piece) {
        for (const char c : piece) {
            const bool remark = c == '#' && out.ends_with(' ');
            if (remark && lost > 0) out += std::string(static_cast<std::size_t>(lost), ' ');
            for (; remark && lost < 0 && out.ends_with("  "); ++lost) out.pop_back();
            if (remark || c == '\n') lost = 0;
            out += c;
        }
    };
    for (std::size_t open; (open = text.find("{{", at)) != std::string::npos;) {
        plain(text.substr(at, open - at));
        const std::size_t bar = text.find('|', open), close = text.find("}}", bar);
        const std::string metric = text.substr(open + 2, bar - open - 2);
        const std::string imperial = text.substr(bar + 1, close - bar - 1);
        const std::string& chosen = units == Units::metric ? metric : imperial;
        lost += static_cast<int>(metric.size()) - static_cast<int>(chosen.size());
        out += chosen;
        at = close + 2;
    }
    plain(text.substr(at));
    return out;
}

}  // namespace

std::string starter_room_file(Units units) {
    std::string names;
    for (const Construction& construction : constructions())
        names += "#   \"" + construction.name + "\"\n";
    std::string boards, rest = after_walls;
    for (const Material& material : materials())
        boards += (boards.empty() ? "" : ", ") + material.name;
    const std::string mark = "@MATERIALS@";
    rest.replace(rest.find(mark), mark.size(), boards);
    return in_units(before_walls + names + rest, units);
}

}  // namespace boxroom
