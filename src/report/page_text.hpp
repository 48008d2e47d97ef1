#pragma once
#include <string_view>

namespace boxroom {

/// The style sheet of every report (page/*.css), without <style>.
std::string_view page_style();
/// The reading line of every chart, pointer and keys (page/chart_reading.js), without <script>. The
/// page is whole without it.
std::string_view chart_script();
/// Folds the details on a screen, opens them for paper (page/folding.js), without <script>.
std::string_view folding_script();
/// The page's tool (src/page/web), and what makes an answer in it live (page/): draws, listens to
/// pointer and keys, and calls the engine. The answer is whole without it.
std::string_view page_script();
/// Style and markup of the tool.
std::string_view tool_style();
std::string_view tool_body();

}  // namespace boxroom
