#pragma once
#include <memory>

#include "survey/survey_run.hpp"

namespace boxroom {

/// The processes that mpirun started together, this one among them.
class Ranks : public RoomHelpers {
  public:
    /// Nothing where this process was started by itself. Throws Error where it was not and this
    /// boxroom knows no MPI: each process would do all of it.
    static std::unique_ptr<Ranks> joined();
    ~Ranks() override;

    bool first() const;
    int count() const override;  ///< the others
    std::optional<Message> next() override;
    void give(int to, const std::vector<long long>& rooms) override;
    /// What a rank that is not the first does: rooms that the first gives it, until there are no
    /// more. A fault of one ends all.
    void help(const Survey& survey);
    /// Says what went wrong here, and ends all.
    static void fail(const std::exception& error);

  private:
    Ranks() = default;
};

}  // namespace boxroom
