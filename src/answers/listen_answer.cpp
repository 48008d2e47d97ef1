#include "answers/listen_answer.hpp"

#include "answers/criteria_output.hpp"
#include "answers/crossing_output.hpp"
#include "answers/decision_output.hpp"
#include "answers/listening_output.hpp"
#include "answers/ringing_output.hpp"
#include "answers/room_days.hpp"
#include "answers/solver_output.hpp"
#include "placement/crossing.hpp"
#include "placement/room_states.hpp"
#include "placement/wording.hpp"
#include "tuning/biquad.hpp"
#include "tuning/deciding.hpp"

namespace boxroom {
namespace {

/// What [equaliser] filters make of the response.
void add_equalised(Answer& answer, const Scenario& scenario, const Listening& heard) {
    const auto& filters = scenario.placed.filters;
    if (filters.empty()) return;
    const Criteria after = equalised_criteria(scenario, heard, filters);
    answer.json["equalised"] = criteria_json(after);
    answer.json["equalised"]["filters"] = filters_json(filters);
    answer.json["equalised"]["seat_average_db"] =
        raised(heard.seat_average_db, equaliser_db(filters, heard.frequency));
    answer.text += "with the equaliser: " + criteria_words(after) + "\n";
}

}  // namespace

HeardFile hear_file(Inquiry& inquiry) {
    const ClosedBox box = chosen_box(inquiry.scenario, inquiry.driver, inquiry.warnings);
    inquiry.say("solving the room", 0.1);
    const double start = seconds_now();
    HeardFile heard{box, take_worse_day(inquiry, box), {}, {}, {}, {}, {}};
    const Scenario& scenario = inquiry.scenario;
    const auto& subs = scenario.placed.subs;
    if (has_crossing(scenario) && !subs.empty())
        heard.result =
            listen_with_mains(scenario, inquiry.driver, box, subs, heard.crossing.emplace());
    else
        heard.result = listen(scenario, inquiry.driver, box, subs);
    inquiry.timings["solve"] = seconds_now() - start;
    heard.trust = compare_if_asked(inquiry, box, heard.result, heard.agreement);
    heard.loaded = cone_load_words(inquiry, heard.result);
    warn_of_unknown_limits(inquiry);
    return heard;
}

Answer listen_answer(const Inquiry& inquiry, const HeardFile& heard) {
    const Scenario& scenario = inquiry.scenario;
    const Listening& result = heard.result;
    const Units units = inquiry.wishes.units;
    Answer answer{listening_text(result, heard.box, units), listening_json(result)};
    answer.json.update(states_json(heard.days));
    if (!heard.days.criteria.empty())
        answer.text += day_words(heard.days, result.seats.size() > 1) + "\n";
    answer.json["subs"] = standing_json(scenario, heard.box);
    answer.text += standing_text(scenario, heard.box, units);
    add_equalised(answer, scenario, result);
    add_ringing(answer, notes_of(scenario, result));
    if (!heard.loaded.empty()) answer.text += heard.loaded + "\n";
    if (heard.agreement.known()) {
        answer.json["solver_agreement"] = agreement_json(heard.agreement);
        answer.text += heard.trust + "\n";
    }
    if (heard.crossing) add_crossing(answer, *heard.crossing, result.seats);
    return answer;
}

}  // namespace boxroom
