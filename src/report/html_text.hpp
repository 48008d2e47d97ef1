#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// Text as it may stand anywhere in HTML, in an element or in an attribute with either quotation
/// mark: & < > " ' become character references, control characters that HTML forbids U+FFFD.
/// Expects and returns UTF-8.
std::string escape_html(std::string_view text);

/// Text of the user, which may run from right to left whatever stands beside it: escaped, inside
/// <bdi dir="auto">.
std::string isolated(std::string_view text);

/// At most `characters` characters (not bytes) of UTF-8, ending in an ellipsis where it was cut.
std::string shortened_text(std::string_view text, int characters);

/// RFC 4648, section 4, with padding, no line breaks.
std::string base64(std::string_view bytes);

/// A number for people, "-" where there is none (not finite); never "-0.0".
std::string decimal(double value, int decimals);

}  // namespace boxroom
