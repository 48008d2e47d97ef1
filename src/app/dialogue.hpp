#pragma once
#include <functional>
#include <iosfwd>
#include <string>

namespace boxroom {

/// Asks on a terminal, one line a question, each with a default that Enter takes. An answer is
/// looked at as it comes; what is wrong with it is said and the question asked again.
class Dialogue {
  public:
    Dialogue(std::istream& in, std::ostream& out) : in_(in), out_(out) {}

    void say(const std::string& text);
    /// `check` returns the answer as it shall be kept, or throws Error. Throws Error itself at the
    /// end of the input, and after a dozen wrong answers in a row.
    std::string ask(const std::string& question, const std::string& fallback,
                    const std::function<std::string(const std::string&)>& check);

  private:
    std::istream& in_;
    std::ostream& out_;
};

}  // namespace boxroom
