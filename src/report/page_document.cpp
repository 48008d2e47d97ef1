#include "report/page_document.hpp"

#include <fmt/format.h>

#include "report/html_text.hpp"
#include "report/page_text.hpp"

namespace boxroom {

std::string page_document(const PageDocument& page) {
    // Nothing is fetched, and what a room file says can start nothing: only what stands here runs.
    const char* const rules =
        "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval' blob:; worker-src "
        "blob:; style-src 'unsafe-inline'; img-src data: blob:; connect-src 'none'";
    const char* const no_script =
        "<noscript><p>This page works everything out with its script: allow it, or use the "
        "program.</p></noscript>";
    return fmt::format(
               "<!doctype html>\n<html lang=\"en\"{}><head><meta charset=\"utf-8\">"
               "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
               "<meta name=\"generator\" content=\"boxroom {}\">"
               "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">"
               "<link rel=\"icon\" href=\"data:,\"><title>{}</title><style>{}{}</style></head>"
               "<body><main>\n{}{}<div id=\"report\"{}>\n{}</div></main>",
               page.attributes, escape_html(page.version), rules,
               escape_html(shortened_text(page.title, 120)), page_style(), tool_style(),
               tool_body(), page.answer.empty() ? no_script : "",
               page.answer.empty() ? " hidden" : "", page.answer) +
           fmt::format(
               "<script>{}{}</script><script type=\"text/plain\" id=\"engine\">{}</script>"
               "<script>{}</script></body></html>\n",
               chart_script(), folding_script(), page.engine, page_script());
}

}  // namespace boxroom
