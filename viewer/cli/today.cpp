#include "viewer/cli/today.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cstdlib>
#include <cstring>
#include <ctime>

namespace evenclose {

std::string today() {
    std::time_t now = std::time(nullptr);
    std::tm day{};
    const char* fixed = std::getenv("SOURCE_DATE_EPOCH"); // NOLINT(concurrency-mt-unsafe): read once, nobody sets it
    if (fixed != nullptr && std::from_chars(fixed, fixed + std::strlen(fixed), now).ec == std::errc{}) {
        gmtime_r(&now, &day);
    } else {
        localtime_r(&now, &day);
    }
    return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

} // namespace evenclose
