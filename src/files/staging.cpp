#include "files/staging.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <thread>
#include <utility>

#include "base/error.hpp"
#include "files/unfinished.hpp"
#include "files/write_all.hpp"

namespace boxroom {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view prefix = ".boxroom-unfinished-";
constexpr const char* elsewhere = "choose another place (for results: --out DIR)";

/// mkdtemp makes a name that nobody has.
fs::path make_hidden_folder(const fs::path& folder) {
    std::string name = (folder / (std::string(prefix) + "XXXXXX")).string();
    if (::mkdtemp(name.data())) return name;
    const int failure = errno;
    if (failure == ENOSPC || failure == EDQUOT || failure == EIO)
        throw WriteFailure(folder, failure);
    throw Error(folder.string(),
                std::string("the folder cannot be written (") + std::strerror(failure) + ")",
                elsewhere);
}

/// Some file systems cannot sync (EINVAL); a full disk or a broken one must be heard.
int sync_failure(int descriptor) {
    return ::fsync(descriptor) != 0 && errno != EINVAL && errno != EROFS ? errno : 0;
}

}  // namespace

WriteFailure::WriteFailure(const fs::path& path, int error_number)
    : std::runtime_error(path.string() + ": the file cannot be written (" +
                         std::strerror(error_number) +
                         ") -- make room on the disk, or choose another folder with --out") {}

FolderLock::FolderLock(const fs::path& folder, Patience patience)
    : descriptor_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    if (descriptor_ < 0) return;
    using namespace std::chrono_literals;
    const auto end = std::chrono::steady_clock::now() + 10s;
    while (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
        if (errno == EINTR) continue;
        if (errno != EWOULDBLOCK || patience == Patience::none) return;
        if (std::chrono::steady_clock::now() > end) {
            ::close(descriptor_);
            throw Error(folder.string(), "another program holds this folder locked",
                        "wait until it is done, or choose another folder with --out");
        }
        std::this_thread::sleep_for(20ms);
    }
    held_ = true;
}

FolderLock::FolderLock(FolderLock&& other) noexcept
    : descriptor_(std::exchange(other.descriptor_, -1)), held_(std::exchange(other.held_, false)) {}

FolderLock::~FolderLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

void FolderLock::sync() const {
    if (descriptor_ >= 0) sync_failure(descriptor_);  // a folder that cannot sync is no fault
}

Staging::Staging(const fs::path& folder)
    : Staging(make(folder, FolderLock(folder, FolderLock::Patience::some))) {}

/// Under the folder's lock, so that nobody sweeps between the making and the locking.
Staging Staging::make(const fs::path& folder, const FolderLock&) {
    for (Staging& left : left_behind(folder)) left.keep(left.has(whole_set));
    const auto hold = Unfinished::work().hold();
    const fs::path path = make_hidden_folder(folder);
    Unfinished::work().begun(path);
    return {path, FolderLock(path, FolderLock::Patience::none)};
}

Staging::Staging(Staging&& other) noexcept
    : path_(std::exchange(other.path_, {})),
      lock_(std::move(other.lock_)),
      kept_(std::exchange(other.kept_, true)) {}

Staging::~Staging() {
    if (kept_) return;
    const auto hold = Unfinished::work().hold();
    std::error_code ignored;
    fs::remove_all(path_, ignored);
    Unfinished::work().done(path_);
}

void Staging::keep(bool kept) {
    kept_ = kept;
    Unfinished::work().done(path_);
    if (!kept) Unfinished::work().begun(path_);
}

void Staging::write(const std::string& name, std::string_view bytes) const {
    const auto hold = Unfinished::work().hold();
    const fs::path file = path_ / name;
    const int descriptor = ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    int failure = descriptor < 0 ? errno : write_all(descriptor, bytes);
    if (descriptor >= 0) {
        // On its way by the time that sync() waits for it; where this cannot be, sync() does it.
        if (!failure) ::sync_file_range(descriptor, 0, 0, SYNC_FILE_RANGE_WRITE);
        if (::close(descriptor) != 0 && !failure) failure = errno;
    }
    if (failure) throw WriteFailure(path_.parent_path() / name, failure);
}

void Staging::sync() const {
    const auto hold = Unfinished::work().hold();
    for (const auto& file : fs::directory_iterator(path_)) {
        const int descriptor = ::open(file.path().c_str(), O_RDONLY | O_CLOEXEC);
        const int failure = descriptor < 0 ? errno : sync_failure(descriptor);
        if (descriptor >= 0) ::close(descriptor);
        if (failure) throw WriteFailure(path_.parent_path() / file.path().filename(), failure);
    }
    lock_.sync();
}

bool Staging::has(const std::string& name) const {
    std::error_code none;
    return fs::is_regular_file(fs::symlink_status(path_ / name, none));
}

void Staging::move_out(const std::string& name, const fs::path& place) const {
    const auto hold = Unfinished::work().hold();
    std::error_code failure;
    fs::rename(path_ / name, place, failure);
    if (failure) throw WriteFailure(place, failure.value());
}

std::vector<Staging> Staging::left_behind(const fs::path& folder) {
    std::vector<Staging> found;
    std::error_code failure;
    for (fs::directory_iterator at(folder, failure), end; !failure && at != end;
         at.increment(failure)) {
        std::error_code none;
        if (!at->path().filename().string().starts_with(prefix) ||
            !fs::is_directory(at->symlink_status(none)))
            continue;
        FolderLock lock(at->path(), FolderLock::Patience::none);
        if (lock.held()) found.push_back(Staging(at->path(), std::move(lock)));
    }
    return found;
}

bool is_staging(const fs::path& folder) {
    return folder.filename().string().starts_with(prefix);
}

void require_no_file_in_the_way(const fs::path& folder) {
    std::error_code none;
    fs::path part = folder;
    while (part.has_relative_path() && !fs::exists(part, none)) part = part.parent_path();
    if (fs::exists(part, none) && !fs::is_directory(part, none))
        throw Error(
            folder.string(),
            "the folder cannot be made: " + part.string() + " stands in the way and is no folder",
            elsewhere);
}

void make_folder(const fs::path& folder) {
    std::error_code failure;
    if (!folder.empty()) fs::create_directories(folder, failure);
    // What counts is that the folder is there, not who made it.
    std::error_code none;
    if (folder.empty() || fs::is_directory(folder, none)) return;
    if (failure.value() == ENOSPC || failure.value() == EDQUOT)
        throw WriteFailure(folder, failure.value());
    require_no_file_in_the_way(folder);
    throw Error(folder.string(),
                "the folder cannot be made" + (failure ? " (" + failure.message() + ")" : ""),
                elsewhere);
}

}  // namespace boxroom
