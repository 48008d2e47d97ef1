#pragma once
#include <string>

namespace boxroom {

/// From <!doctype> to <main> of a page of ours. Title and version are plain text; `attributes` of
/// <html> are markup, each with a blank before it.
std::string open_page(const std::string& title, const std::string& version,
                      const std::string& attributes = {});
/// A part of the page under a heading; nothing if it is empty. `content` is markup.
std::string section(const std::string& id, const std::string& title, const std::string& content);
/// The same, of what is looked up rather than read: open as written, so that paper and a browser
/// without script show it; page/folding.js folds it on a screen.
std::string folded_section(const std::string& id, const std::string& title,
                           const std::string& content);

}  // namespace boxroom
