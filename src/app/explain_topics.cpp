#include "app/explain_topics.hpp"

#include "app/wrapped_text.hpp"

namespace boxroom {
namespace {

std::string paragraphs(std::initializer_list<const char*> texts) {
    std::string out;
    for (const char* text : texts) out += (out.empty() ? "" : "\n") + wrapped(text);
    return out;
}

}  // namespace

std::string subs_topic() {
    return paragraphs(
        {"`plan` decides between one box and two; with --subs 3 or [search] subs = [1, 2, 4] among "
         "more, up to four. A further box must lower the spread by [target] indifference, and in "
         "nine "
         "draws of ten, or be needed for [target] level.",
         "It says what each number buys, where the boxes stand and what to dial in: gain, delay "
         "and "
         "polarity, on the steps of [settings]. The equaliser that all share is written as biquads "
         "for 48 and 96 kHz, with the sign convention inside.",
         "Every set of two is looked at, and of three and four where there are not too many; else "
         "the "
         "answer says how it was searched. All boxes are alike unless [search] volumes = [\"13 "
         "L\", "
         "\"25 L\"] lets each be any of these. `volume` in a [[sub]] gives one box a size of its "
         "own.",
         "The file may be wrong: seats, boxes, room, walls and driver are drawn within "
         "[robustness], "
         "500 times, or 50 where no number of subs is asked for. The set that wins most often is "
         "chosen; two that cannot be told apart are called a tie. A room that is no rectangle "
         "keeps its size.",
         "With [[main]] loudspeakers and a [crossover] (Linkwitz-Riley or Butterworth, order 2 or "
         "4) "
         "`listen` and `plan` also show the sum at the seats, and which delay and polarity fits "
         "the "
         "mains best. All other numbers stay those of the subs by themselves."});
}

std::string rooms_topic() {
    return paragraphs(
        {"A closed rectangle is solved exactly, in a fraction of a second. [room] floor_plan, the "
         "corners "
         "going round, takes the place of width and length; its walls are edge_1, edge_2 and so "
         "on, "
         "`edges` for all that have no line of their own, floor and ceiling.",
         "A [[block]] is a cuboid with a surface, a [[space]] a room next door, an [[opening]] a "
         "flat "
         "rectangle on a wall that leads to a space or, without `space`, outside. "
         "rooms/l_shaped.toml "
         "shows all of it.",
         "Any other room, with its blocks, openings and spaces, is solved by elements that lie "
         "along every "
         "wall: full "
         "solutions at some ten frequencies, then a small basis for all others. The program says "
         "by "
         "how much the last solutions still moved a level. With --solver grid the sound is stepped "
         "through cells instead, 19 to the shortest wavelength.",
         "`listen` and `plan` take --solver both and say by how much the two differ at your seats. "
         "In "
         "a closed rectangle they agree within 0.5 dB and 3 degrees up to 150 Hz. With an opening "
         "whose "
         "edges miss the cells by centimetres, a live room is 1.4 dB off RMS and several decibels "
         "at "
         "single sharp peaks: there `modal` is the better.",
         "Against finite elements by another program (15 to 150 Hz, nulls left out; RMS and "
         "worst) our elements are 0.02 and 0.2 dB off in an L of mixed walls and as much in a live "
         "room with a door. Nearer than half a metre to a sub they miss up to 3 dB of its own "
         "field. The grid: an "
         "L of mixed walls 0.07 and 0.7 dB, of brick 0.20 and 1.4, a T 0.27 and 6.9, furniture "
         "damped "
         "0.29 and 3.2, furniture in brick 0.72 and 7.1 dB. Most of it is faces that the cells "
         "move.",
         "Walls are smeared: a window counts for the whole wall that holds it. In ten rooms levels "
         "were "
         "0.6 dB RMS off those with window and door where they are, several dB beside nulls "
         "(tests/bench/patches.cpp).",
         "The room also pushes back on the cone. [analysis] cone_load = true counts that for "
         "placed "
         "subs: 0.15 dB at most in the demo room, 1.0 dB at the 50 Hz mode of the small masonry "
         "room."});
}

std::string measuring_topic() {
    return paragraphs(
               {"The driver. `boxroom driver free.csv` reads the impedance in free air (header "
                "frequency_hz,impedance_ohm, a third column phase_deg where it was measured) and "
                "gives "
                "fs, Qts, Qes, Qms, Re and Le with what the curve leaves in doubt, as a [driver] "
                "table.",
                "Vas wants a second curve: --box \"12 L\" --boxed in_box.csv (an empty, tight box; "
                "Small "
                "1972) or --mass \"20 g\" --weighed weighed.csv --sd \"220 cm2\" (a mass on the "
                "cone). "
                "--in-box reads fc and Qtc of the finished box and says whether to add or take out "
                "filling.",
                "The room. `boxroom sweep my.toml` writes sweep.wav and a card on how to play and "
                "record "
                "it. Name the recordings in the room file, or curves that you have (header "
                "frequency_hz,level_db); paths are seen from the room file:"}) +
           "\n    [[recording]]\n    seat = \"sofa, middle\"        # or at = [\"2.05 m\", \"3.50 "
           "m\", "
           "\"1.10 m\"]\n    sub = \"front left corner\"    # left out: all subs together\n"
           "    sound = \"sofa_middle.wav\"    # or curve = \"sofa_middle.csv\"\n    channel = 1\n"
           "    [microphone]\n    calibration = \"mic.csv\"      # frequency_hz,correction_db\n"
           "    absolute = false             # true: levels of curves are dB re 20 uPa\n\n" +
           paragraphs(
               {"`listen` then shows measured beside predicted. A recording that is clipped, cut "
                "short, "
                "of another sweep or played at another rate is refused. What lies within 10 dB of "
                "the "
                "noise is left out, frequency by frequency.",
                "Without a model. Put the box on the seat and the microphone where a box might "
                "stand: by "
                "reciprocity that recording is the response of that spot at that seat. Write "
                "box_on_seat = \"sofa, middle\" and `at`, the microphone; `listen` ranks those "
                "spots by "
                "measurement alone, as long as no gain was touched in between.",
                "Correcting the model. `boxroom fit my.toml` looks for the room in which the "
                "recordings "
                "are likeliest: absorption of walls and contents, sides, temperature, fc and Qtc, "
                "places "
                "within a tape's error, each held by what was thought before. It writes "
                "fitted.toml.",
                "It says how far off the model was and is, also at seats that it left out, which "
                "walls "
                "cannot be told apart, and where one more recording would tell most. It knows "
                "levels only.",
                "Furniture. In a rectangle with nothing in it the fit looks along the walls for a "
                "piece that the file lacks: no wall can mimic what it does to the modes' shapes. "
                "It is taken where the odds are 20 to 1 and seats that were left out gain by it, "
                "and stands in fitted.toml as a [[block]]."});
}

}  // namespace boxroom
