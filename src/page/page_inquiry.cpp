#include "page/page_inquiry.hpp"

#include "room_file/room_file.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

Wishes wishes_of(const Json& request) {
    Wishes wishes;
    wishes.units = units_of(request);
    wishes.subs = request.value("subs", 0);
    wishes.memory = 1;  // a browser's page has 2 GB at most, and the engine is not alone in it
    for (const auto& [key, member] : {std::pair{"qtc", &Wishes::qtc}, {"volume", &Wishes::volume}})
        if (request.contains(key)) wishes.*member = request[key].get<std::string>();
    return wishes;
}

}  // namespace

Units units_of(const Json& request) {
    return request.value("units", "metric") == "imperial" ? Units::imperial : Units::metric;
}

PageInquiry::PageInquiry(const Json& request, const PageProgress& tell)
    : Inquiry(wishes_of(request),
              parse_room_file(request.at("text").get<std::string>(), page_file)),
      tell_(tell) {
    choose_solver({});
}

Json closed_answer(Inquiry& inquiry, Answer answer, Json files) {
    inquiry.close(answer);
    answer.json.erase("timing_s");
    return {{"status", 0},
            {"answer", std::move(answer.json)},
            {"text", std::move(answer.text)},
            {"files", std::move(files)}};
}

}  // namespace boxroom
