#include "room_file/toml_bounds.hpp"

#include <algorithm>

#include "base/error.hpp"

namespace boxroom {
namespace {

class Scan {
  public:
    Scan(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    void run() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '#')
                at_ = std::min(text_.find('\n', at_), text_.size());
            else if (c == '"' || c == '\'')
                quoted(c);
            else
                other(c);
        }
    }

  private:
    /// Steps over a string, of one line or of several.
    void quoted(char quote) {
        const std::size_t begin = at_;
        const int first_line = line_;
        const std::string fence(3, quote);
        const bool several = text_.substr(at_).starts_with(fence);
        at_ += several ? 3 : 1;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '\n' && !several) break;  // not closed: the parser's to say
            if (several ? text_.substr(at_).starts_with(fence) : c == quote) {
                at_ += several ? 3 : 1;
                break;
            }
            if (c == '\n') ++line_;
            at_ += c == '\\' && quote == '"' && at_ + 1 < text_.size() && text_[at_ + 1] != '\n'
                       ? 2
                       : 1;
        }
        word_ = 0;
        if (at_ - begin > room_file_bounds::text)
            refuse(first_line, "a text is longer than " + std::to_string(room_file_bounds::text) +
                                   " characters");
    }

    void other(char c) {
        ++at_;
        if (c == '.') {
            word_ = 0;
            if (++dots_ > room_file_bounds::dots)
                refuse(line_,
                       "a key has more than " + std::to_string(room_file_bounds::dots) + " dots");
            return;
        }
        const bool opens = c == '[' || c == '{', closes = c == ']' || c == '}';
        if (opens && ++depth_ > room_file_bounds::nesting)
            refuse(line_, "more than " + std::to_string(room_file_bounds::nesting) +
                              " brackets stand within each other");
        if (closes) depth_ = std::max(0, depth_ - 1);
        if (c == '\n') ++line_;
        if (opens || closes || c == '\n' || c == '=' || c == ',')
            dots_ = 0, word_ = 0;
        else if (c == ' ' || c == '\t' || c == '\r')
            word_ = 0;
        else if (++word_ > room_file_bounds::key)
            refuse(line_, "a word is longer than " + std::to_string(room_file_bounds::key) +
                              " characters");
    }

    [[noreturn]] void refuse(int line, const std::string& what) const {
        throw Error(file_ + ':' + std::to_string(line), what,
                    "no room needs that: is this the right file?");
    }

    std::string_view text_;
    const std::string& file_;
    std::size_t at_ = 0, word_ = 0;
    int line_ = 1, depth_ = 0, dots_ = 0;
};

}  // namespace

void require_within_bounds(std::string_view text, const std::string& file) {
    if (text.size() > room_file_bounds::bytes)
        throw Error(file,
                    "the file is larger than " +
                        std::to_string(room_file_bounds::bytes / 1'000'000) + " MB",
                    "no room needs that: is this the right file?");
    Scan(text, file).run();
}

}  // namespace boxroom
