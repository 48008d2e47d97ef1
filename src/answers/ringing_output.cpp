#include "answers/ringing_output.hpp"

#include <algorithm>

#include "placement/decay_picture.hpp"
#include "placement/ringing.hpp"
#include "tuning/biquad.hpp"
#include "tuning/equaliser.hpp"

namespace boxroom {

std::vector<RingingNote> notes_of(const Scenario& scenario, const Listening& heard) {
    return RingingModes(scenario.acoustics, scenario.seats, scenario.judgement.target.band)
        .notes(heard);
}

void add_ringing(Answer& answer, const std::vector<RingingNote>& notes) {
    auto& json = answer.json["ringing"] = nlohmann::ordered_json::array();
    for (const RingingNote& note : notes)
        json.push_back({{"frequency_hz", note.frequency},
                        {"decay_time_s", note.decay_time},
                        {"threshold_s", note.threshold},
                        {"seat", note.seat},
                        {"level_db", note.level_db}});
    if (!notes.empty()) answer.text += ringing_words(notes) + "\n";
}

DecayPicture picture_of_decay(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const Listening& heard, const std::vector<RingingNote>& notes) {
    const auto worst = std::ranges::find_if(notes, &RingingNote::in_band);
    const auto named = std::ranges::find_if(scenario.seats, [&](const Seat& seat) {
        return worst != notes.end() && seat.name == worst->seat;
    });
    const std::size_t seat = named == scenario.seats.end()
                                 ? 0
                                 : static_cast<std::size_t>(named - scenario.seats.begin());
    const Judge judge(heard.frequency, heard.seats, scenario.judgement.target);
    std::vector<double> average;
    for (const double level : heard.seat_average_db) average.push_back(mean_square_of_level(level));
    std::vector<Biquad> filters;
    constexpr double rate = 192e3;  // as good as analogue below 500 Hz (tuning/biquad.hpp)
    for (const EqFilter& filter : equalise(judge, average)) filters.push_back(biquad(filter, rate));
    std::function<std::complex<double>(double)> gain;
    if (!filters.empty())
        gain = [filters](double frequency) {
            std::complex<double> product = 1;
            for (const Biquad& filter : filters) product *= filter.response(frequency, rate);
            return product;
        };
    return decay_picture(scenario, driver, box, heard.subs, seat, gain);
}

}  // namespace boxroom
