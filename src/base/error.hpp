#pragma once
#include <exception>
#include <string>
#include <utility>
#include <vector>

namespace boxroom {

/// One thing that is wrong: where it is, what it is, and how to mend it.
struct Fault {
    std::string where;  ///< "demo.toml:12", "--qtc", or the function for a numerical failure
    std::string what;
    std::string mend;
};

/// The only exception type of the project. Carries one fault or several, so that a reader can
/// report everything that is wrong with a file at once.
class Error : public std::exception {
  public:
    Error(std::string where, std::string what, std::string mend)
        : Error(std::vector<Fault>{{std::move(where), std::move(what), std::move(mend)}}) {}
    explicit Error(std::vector<Fault> all) : faults_(std::move(all)) {
        for (const Fault& fault : faults_) {
            if (!text_.empty()) text_ += '\n';
            text_ += (fault.where.empty() ? "" : fault.where + ": ") + fault.what;
            if (!fault.mend.empty()) text_ += " -- " + fault.mend;
        }
    }
    const std::vector<Fault>& faults() const { return faults_; }
    /// One line a fault: "where: what -- mend".
    const char* what() const noexcept override { return text_.c_str(); }

  private:
    std::vector<Fault> faults_;
    std::string text_;
};

}  // namespace boxroom
