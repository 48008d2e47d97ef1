#include "app/dialogue.hpp"

#include <istream>
#include <ostream>

#include "base/error.hpp"
#include "base/visible_text.hpp"

namespace boxroom {
namespace {

constexpr int patience = 12;  ///< wrong answers in a row: nobody is there
constexpr std::size_t longest = 2000;

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\r\n");
    if (first == std::string::npos) return "";
    return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

}  // namespace

void Dialogue::say(const std::string& text) {
    if (!silent()) out_ << visible_text(text, Lines::kept) << std::flush;
}

std::string Dialogue::ask(const std::string& question, const std::string& fallback,
                          const std::function<std::string(const std::string&)>& check) {
    const auto used = [&](const std::string& typed) {
        return check(typed.empty() ? fallback : typed);
    };
    if (silent()) {
        const std::string typed = given_[next_++];
        try {
            return used(typed);
        } catch (const Error&) {  // what was doubted was meant
            return used(typed);
        }
    }
    for (int wrong = 0; wrong < patience; ++wrong) {
        say(question + (fallback.empty() ? " " : " [" + fallback + "] "));
        std::string line;
        if (!std::getline(in_, line)) {
            say("\n");
            throw Error("new --ask", "the answers ended at \"" + question + "\"",
                        "nothing was written; start again, or leave out --ask for a file to edit");
        }
        const std::string typed = trimmed(line.substr(0, longest));
        if ((typed == "<" || typed == "back") && !given_.empty()) {
            given_.pop_back();
            throw GoBack{};
        }
        try {
            std::string kept = used(typed);
            given_.push_back(typed);
            next_ = given_.size();
            return kept;
        } catch (const Error& error) {
            const Fault& fault = error.faults().front();
            say("  " + fault.what + (fault.mend.empty() ? "" : ": " + fault.mend) + "\n");
        }
    }
    throw Error("new --ask", "a dozen answers in a row could not be used",
                "nothing was written; leave out --ask for a file to edit");
}

}  // namespace boxroom
