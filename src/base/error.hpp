#pragma once
#include <exception>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "base/visible_text.hpp"

namespace boxroom {

/// One thing that is wrong: where it is, what it is, and how to mend it.
struct Fault {
    std::string where;  ///< "demo.toml:12", "--qtc", or the part of the program that found it
    std::string what;
    std::string mend;
};

/// What the user can mend: the file, the command line. Carries one fault or several, so that a
/// reader can report everything that is wrong with a file at once. The program ends with status 2.
class Error : public std::exception {
  public:
    Error(std::string where, std::string what, std::string mend)
        : Error(std::vector<Fault>{{std::move(where), std::move(what), std::move(mend)}}) {}
    explicit Error(std::vector<Fault> all) : faults_(std::move(all)) {
        for (const Fault& fault : faults_) {
            if (!text_.empty()) text_ += '\n';
            std::string line = (fault.where.empty() ? "" : fault.where + ": ") + fault.what;
            if (!fault.mend.empty()) line += " -- " + fault.mend;
            text_ += visible_text(line);
        }
    }
    const std::vector<Fault>& faults() const { return faults_; }
    /// One line a fault: "where: what -- mend", with nothing in it that a terminal obeys.
    const char* what() const noexcept override { return text_.c_str(); }

  private:
    std::vector<Fault> faults_;
    std::string text_;
};

/// What the user cannot mend: a number was not found although the question was a fair one. No
/// Error, since no file is to blame; the program ends with status 1.
class NumericalFailure : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

}  // namespace boxroom
