#pragma once
#include "answers/inquiry.hpp"
#include "page/page_answer.hpp"

namespace boxroom {

inline constexpr const char* page_file = "room.toml";  ///< in messages: the text has no other name

/// "units" of a request.
Units units_of(const nlohmann::ordered_json& request);

/// An inquiry into the text of a page. Throws Error for a text that is no room file.
class PageInquiry : public Inquiry {
  public:
    PageInquiry(const nlohmann::ordered_json& request, const PageProgress& tell);
    void say(const std::string& phase, double share) const override { tell_(phase, share); }
    using Inquiry::say;

  private:
    const PageProgress& tell_;
};

/// An answer and its files as a reply, times left out.
nlohmann::ordered_json closed_answer(
    Inquiry& inquiry, Answer answer,
    nlohmann::ordered_json files = nlohmann::ordered_json::object());

}  // namespace boxroom
