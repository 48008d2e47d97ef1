#pragma once
#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "files/manifest.hpp"
#include "files/output_place.hpp"
#include "files/staging.hpp"

namespace boxroom {

/// The set of the drawings and the cut list, which both `plan` and `build` write.
inline constexpr const char* sawing_set = "box to saw";

/// The folder that a run's results go to. Everything is first written beside them (Staging);
/// commit() then takes the manifest away, renames all into place, removes what the runs before
/// wrote into the same sets and this one did not, and writes the new manifest. So a run that fails,
/// or is killed before commit(), leaves the folder as it was; one that is killed during it is
/// finished by the next run.
class ResultsFolder {
  public:
    /// Touches nothing yet. `command` is the set that files belong to by default; `inputs` is what
    /// the run reads and must outlive this.
    ResultsFolder(std::filesystem::path folder, std::string command, const InputFiles& inputs);
    ResultsFolder(const ResultsFolder&) = delete;
    ResultsFolder& operator=(const ResultsFolder&) = delete;
    /// Without a commit(): takes away what was begun, the folder too if it was made for it.
    ~ResultsFolder();

    const std::filesystem::path& path() const { return path_; }
    /// For what takes long: throws Error now if the folder cannot be written, or if something
    /// stands in the way of these files.
    void expect(const std::vector<std::string>& names);
    /// Throws Error if the folder cannot be written, WriteFailure if the disk fails.
    void write(const std::string& name, const std::string& bytes);
    void write(const std::string& name, const std::string& bytes, const std::string& set);
    /// Files of this set from earlier runs go, also where this run writes none.
    void replaces(const std::string& set) { sets_.insert(set); }
    /// Throws Error if something stands in the way that this program did not write.
    void commit();

  private:
    /// A move into place that can be begun again: what was listed before and what is to be.
    struct Move {
        Manifest before, after;
    };
    std::optional<Manifest> finish_what_was_begun(const FolderLock& lock) const;
    void require_free_names(const Staging& staging, const Move& move) const;
    void carry_out(const Staging& staging, const Move& move, const FolderLock& lock) const;
    Manifest with_new_files(const Manifest& before) const;
    static std::string text(const Move& move);
    static std::optional<Move> read_move(const Staging& staging);

    std::filesystem::path path_;
    std::string command_;
    const InputFiles& inputs_;
    std::optional<Staging> staging_;
    std::vector<ListedFile> staged_;
    std::set<std::string> sets_;
    std::vector<std::filesystem::path> made_;  ///< folders that were made for this, outermost first
};

}  // namespace boxroom
