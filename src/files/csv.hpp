#pragma once
#include <string>

namespace boxroom {

/// Rows of fields as RFC 4180 has them: ended by CR LF; a field with a comma, a quote or a line
/// break stands in quotes, its quotes doubled.
class Csv {
  public:
    void field(const std::string& text);
    /// Six significant figures: the model promises far fewer. Empty where the number is not known
    /// (NaN).
    void number(double value);
    void end_row();
    std::string take() { return std::move(text_); }

  private:
    std::string text_;
    bool row_start_ = true;
};

}  // namespace boxroom
