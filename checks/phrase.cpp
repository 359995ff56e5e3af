#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <charconv>

namespace evenclose {
namespace {
constexpr std::string_view kOpen = "{mm:";
}

std::string length_mark(double mm) { return fmt::format("{}{}}}", kOpen, mm); }

std::string shown(std::string_view sentence, UnitSystem system) {
    std::string result;
    while (true) {
        const std::size_t start = sentence.find(kOpen);
        const std::size_t stop = start == std::string_view::npos ? start : sentence.find('}', start);
        if (stop == std::string_view::npos) {
            return result.append(sentence);
        }
        double mm = 0;
        const char* first = sentence.data() + start + kOpen.size();
        const char* last = sentence.data() + stop;
        const auto [rest, error] = std::from_chars(first, last, mm);
        result.append(sentence.substr(0, start));
        if (error == std::errc{} && rest == last) {
            result.append(show_length(mm, system));
        } else { // somebody's own text that only looks like a mark
            result.append(sentence.substr(start, stop + 1 - start));
        }
        sentence.remove_prefix(stop + 1);
    }
}

} // namespace evenclose
