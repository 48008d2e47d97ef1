#pragma once

namespace boxroom {

/// The report's style sheet, without <style>. Colours of text and ground keep at least 4.5:1, lines
/// 3:1 (WCAG 2.1, 1.4.3 and 1.4.11). Telephone, screen and paper.
extern const char* const report_css;

/// The reading line of every chart, without <script>: pointer and keys. The page is whole without
/// it.
extern const char* const report_script;

}  // namespace boxroom
