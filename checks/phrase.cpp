#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <charconv>
#include <optional>

namespace evenclose {
namespace {

/// What a mark "{name:number}" stands for; nothing if it is somebody's own text that only looks like one.
std::optional<std::string> shown_mark(std::string_view mark, UnitSystem system) {
    const std::size_t colon = mark.find(':');
    if (colon == std::string_view::npos) {
        return std::nullopt;
    }
    const std::string_view name = mark.substr(0, colon);
    double value = 0;
    const char* last = mark.data() + mark.size();
    const auto [rest, error] = std::from_chars(mark.data() + colon + 1, last, value);
    if (error != std::errc{} || rest != last) {
        return std::nullopt;
    }
    if (name == "mm") {
        return show_length(value, system);
    }
    if (name == "N") {
        return show_force(value, system);
    }
    if (name == "MPa") {
        return show_pressure(value, system);
    }
    return std::nullopt;
}

} // namespace

std::string length_mark(double mm) { return fmt::format("{{mm:{}}}", mm); }
std::string force_mark(double newton) { return fmt::format("{{N:{}}}", newton); }
std::string pressure_mark(double mpa) { return fmt::format("{{MPa:{}}}", mpa); }

std::string listed(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i) {
        text += i == 0 ? "" : i + 1 == names.size() ? " and " : ", ";
        text += names[i];
    }
    return text;
}

std::string shown(std::string_view sentence, UnitSystem system) {
    std::string result;
    while (true) {
        const std::size_t start = sentence.find('{');
        const std::size_t stop = start == std::string_view::npos ? start : sentence.find('}', start);
        if (stop == std::string_view::npos) {
            return result.append(sentence);
        }
        result.append(sentence.substr(0, start));
        if (const auto mark = shown_mark(sentence.substr(start + 1, stop - start - 1), system)) {
            result.append(*mark);
            sentence.remove_prefix(stop + 1);
        } else {
            result += '{';
            sentence.remove_prefix(start + 1);
        }
    }
}

} // namespace evenclose
