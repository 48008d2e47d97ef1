#include "files/results_folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "base/error.hpp"
#include "files/sha256.hpp"
#include "files/unfinished.hpp"

namespace boxroom {

namespace fs = std::filesystem;

namespace {

constexpr const char* mend = "move it away, or choose another folder with --out";

bool by_name(const ListedFile& a, const ListedFile& b) {
    return a.name < b.name;
}

}  // namespace

ResultsFolder::ResultsFolder(fs::path folder, std::string command, const InputFiles& inputs)
    : path_(std::move(folder)), command_(std::move(command)), inputs_(inputs), sets_{command_} {}

ResultsFolder::~ResultsFolder() {
    staging_.reset();
    std::error_code ignored;
    for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) {
        fs::remove(*folder, ignored);  // only where nothing is in it
        Unfinished::work().done(*folder);
    }
}

void ResultsFolder::expect(const std::vector<std::string>& names) {
    require_no_file_in_the_way(path_);
    std::error_code none;
    fs::path nearest = path_;  // the folder, or the one that it would be made in
    while (!fs::exists(nearest, none)) {
        const fs::path above = nearest.has_parent_path() ? nearest.parent_path() : fs::path(".");
        if (above == nearest) break;
        nearest = above;
    }
    if (!fs::is_directory(nearest, none) || ::access(nearest.c_str(), W_OK | X_OK) != 0)
        throw Error(path_.string(), "the folder for the results cannot be written",
                    "choose another with --out DIR");
    if (nearest != path_) return;
    const FolderLock lock(path_, FolderLock::Patience::some);
    const auto before = finish_what_was_begun(lock);
    for (const std::string& name : names)
        require_free(path_ / name,
                     standing_at(path_ / name, inputs_, before ? before->find(name) : nullptr),
                     mend);
}

void ResultsFolder::write(const std::string& name, const std::string& bytes) {
    write(name, bytes, command_);
}

void ResultsFolder::write(const std::string& name, const std::string& bytes,
                          const std::string& set) {
    if (!staging_) {
        // A link that leads nowhere is somebody's: it is not made here, and so never taken away.
        const auto nothing_at = [](const fs::path& part) {
            std::error_code none;
            return fs::symlink_status(part, none).type() == fs::file_type::not_found;
        };
        for (fs::path part = path_; !part.empty() && nothing_at(part); part = part.parent_path())
            made_.insert(made_.begin(), part);
        const auto hold = Unfinished::work().hold();
        make_folder(path_);
        for (const fs::path& part : made_) Unfinished::work().begun(part);
        staging_.emplace(path_);
    }
    staging_->write(name, bytes);
    staged_.push_back({name, sha256(bytes), {}, set});
    sets_.insert(set);
}

/// Moves in what a killed run had finished, sweeps what it had not, and returns the manifest as it
/// then is.
std::optional<Manifest> ResultsFolder::finish_what_was_begun(const FolderLock& lock) const {
    for (Staging& left : Staging::left_behind(path_))
        if (const auto move = read_move(left)) {
            left.keep(true);  // for the next run, should something stand in the way now
            require_free_names(left, *move);
            carry_out(left, *move, lock);
            left.keep(false);
        }
    return read_manifest(path_);
}

void ResultsFolder::require_free_names(const Staging& staging, const Move& move) const {
    for (const ListedFile& file : move.after.files)
        if (staging.has(file.name))
            require_free(path_ / file.name,
                         standing_at(path_ / file.name, inputs_, move.before.find(file.name)),
                         mend);
    if (inputs_.hold(path_ / manifest_name))
        require_free(path_ / manifest_name, Standing::input, mend);
}

/// Each step may have been done already: the whole can be begun again after a kill at any moment.
void ResultsFolder::carry_out(const Staging& staging, const Move& move,
                              const FolderLock& lock) const {
    if (!staging.has(manifest_name)) return;  // it goes last: all is done
    std::error_code ignored;
    fs::remove(path_ / manifest_name, ignored);
    lock.sync();
    for (const ListedFile& file : move.after.files)
        if (staging.has(file.name)) staging.move_out(file.name, path_ / file.name);
    for (const ListedFile& file : move.before.files)
        if (!move.after.find(file.name) && !inputs_.hold(path_ / file.name) &&
            is_as_listed(path_, file))
            fs::remove(path_ / file.name, ignored);
    lock.sync();
    staging.move_out(manifest_name, path_ / manifest_name);
    lock.sync();
}

/// What this run wrote, and what stays of the runs before: files of other sets that are as they
/// were.
Manifest ResultsFolder::with_new_files(const Manifest& before) const {
    Manifest after{{}, staged_};
    std::sort(after.files.begin(), after.files.end(), by_name);
    std::string all = command_;
    for (const ListedFile& file : after.files) all += '\n' + file.name + ' ' + file.sha256;
    // Named after what it wrote, so that the same run has the same name, today and tomorrow.
    after.run = command_ + '-' + sha256(all).substr(0, 16);
    for (ListedFile& file : after.files) file.run = after.run;
    for (const ListedFile& file : before.files)
        if (!sets_.contains(file.set) && !after.find(file.name) && is_as_listed(path_, file))
            after.files.push_back(file);
    std::sort(after.files.begin(), after.files.end(), by_name);
    return after;
}

std::string ResultsFolder::text(const Move& move) {
    return nlohmann::ordered_json{{"before", manifest_text(move.before)},
                                  {"after", manifest_text(move.after)}}
               .dump() +
           "\n";
}

std::optional<ResultsFolder::Move> ResultsFolder::read_move(const Staging& staging) try {
    if (!staging.has(whole_set)) return std::nullopt;
    std::ifstream in(staging.path() / whole_set, std::ios::binary);
    const auto json = nlohmann::json::parse(in);
    const auto before = parse_manifest(json.at("before").get<std::string>()),
               after = parse_manifest(json.at("after").get<std::string>());
    return before && after ? std::optional(Move{*before, *after}) : std::nullopt;
} catch (const nlohmann::json::exception&) {
    return std::nullopt;
}

void ResultsFolder::commit() {
    if (!staging_) return;
    const auto hold = Unfinished::work().hold();
    const FolderLock lock(path_, FolderLock::Patience::some);
    Move move;
    move.before = finish_what_was_begun(lock).value_or(Manifest{});
    move.after = with_new_files(move.before);
    require_free_names(*staging_, move);
    staging_->write(manifest_name, manifest_text(move.after));
    staging_->write("move", text(move));
    staging_->sync();
    staging_->move_out("move", staging_->path() / whole_set);  // from here on it will be finished
    staging_->keep(true);
    for (const fs::path& part : made_) Unfinished::work().done(part);
    made_.clear();
    carry_out(*staging_, move, lock);
    staging_->keep(false);
    staging_.reset();
}

}  // namespace boxroom
