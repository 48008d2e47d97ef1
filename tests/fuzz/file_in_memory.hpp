#pragma once
#include <sys/mman.h>
#include <unistd.h>

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace boxroom::fuzz {

/// A file that never touches a disk, for readers that want a path.
class FileInMemory {
  public:
    explicit FileInMemory(std::string_view bytes) : descriptor_(::memfd_create("fuzz", 0)) {
        for (std::size_t at = 0; at < bytes.size();) {
            const auto written = ::write(descriptor_, bytes.data() + at, bytes.size() - at);
            if (written <= 0) throw std::runtime_error("no memory for the file");
            at += static_cast<std::size_t>(written);
        }
    }
    FileInMemory(const FileInMemory&) = delete;
    FileInMemory& operator=(const FileInMemory&) = delete;
    ~FileInMemory() { ::close(descriptor_); }
    std::filesystem::path path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

  private:
    int descriptor_;
};

}  // namespace boxroom::fuzz
