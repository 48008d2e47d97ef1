#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <string>

namespace boxroom {

/// What `work` returns, worked out in a child process: for libraries that crash or never end on
/// bytes somebody crafted. The child may take a gigabyte of memory beyond what this process has, 20
/// seconds of a processor and a minute of anybody's clock; it writes no file, and what it prints is
/// lost.
///
/// Nothing if it crashed, threw, overstepped a limit or returned more than `most` bytes. Throws
/// std::runtime_error where no process can be started. `work` must not start threads, or wait for
/// those that run here: in the child there is this one alone.
std::optional<std::string> worked_out_apart(const std::function<std::string()>& work,
                                            std::size_t most);

}  // namespace boxroom
