// checks/report/markup.hpp: what SVG and HTML need of a text.
#pragma once

#include <string>
#include <string_view>

namespace evenclose {

/// `text` with &, <, >, " and ' written as references, and without the control characters that XML 1.0 does not allow.
[[nodiscard]] std::string escaped(std::string_view text);

/// RFC 4648, section 4, with padding.
[[nodiscard]] std::string base64(std::string_view bytes);

} // namespace evenclose
