#pragma once
#include <string>

namespace boxroom {

/// The page's engine (report/page_document.hpp), in base64: from beside the program where it was
/// built, from the package's own folder where it was installed; empty where it is not there.
std::string page_engine();

}  // namespace boxroom
