#pragma once
#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

namespace boxroom {

/// The answer "<" (or "back"): the dialogue is to be gone through again, as far as it was right.
struct GoBack {};

/// Asks on a terminal, one line a question, each with a default that Enter takes. An answer is
/// looked at as it comes; what is wrong with it is said and the question asked again. What was
/// answered is kept: after begin_again() the same questions are answered with it in silence.
class Dialogue {
  public:
    Dialogue(std::istream& in, std::ostream& out) : in_(in), out_(out) {}

    void say(const std::string& text);
    /// `check` returns the answer as it shall be kept, or throws Error. Throws Error itself at the
    /// end of the input, and after a dozen wrong answers in a row; GoBack where that is the answer,
    /// with the answer before forgotten.
    std::string ask(const std::string& question, const std::string& fallback,
                    const std::function<std::string(const std::string&)>& check);

    void begin_again() { next_ = 0; }

  private:
    bool silent() const { return next_ < given_.size(); }
    std::istream& in_;
    std::ostream& out_;
    std::vector<std::string> given_;  ///< as they were typed
    std::size_t next_ = 0;            ///< of them, the one that is asked for now
};

}  // namespace boxroom
