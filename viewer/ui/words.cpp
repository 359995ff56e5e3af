#include "viewer/ui/words.hpp"

#include "checks/report/value_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <filesystem>

namespace evenclose {

std::string number_words(const std::optional<double>& value, const std::string& unit, UnitSystem units) {
    if (!value || !std::isfinite(*value)) {
        return "–";
    }
    if (unit == "rad") {
        return fmt::format("{:.2f} mrad", *value * 1e3);
    }
    return value_words(*value, unit, units);
}

std::string travel_words(const std::optional<TravelInterval>& travel, UnitSystem units) {
    if (!travel) {
        return {};
    }
    const std::string from = show_length(travel->from.mm, units, 1);
    const std::string to = show_length(travel->to.mm, units, 1);
    if (from == to) {
        return "at " + from;
    }
    // The unit once is enough: "70 – 110 mm".
    const std::string unit = units == UnitSystem::metric ? " mm" : " in";
    const bool both = from.ends_with(unit) && to.ends_with(unit);
    return (both ? from.substr(0, from.size() - unit.size()) : from) + " – " + to;
}

std::string size_words(const Vec3& size_mm, UnitSystem units) {
    const std::string unit = units == UnitSystem::metric ? " mm" : " in";
    const auto bare = [&](double mm) {
        std::string words = show_length(mm, units, 0);
        return words.ends_with(unit) ? words.substr(0, words.size() - unit.size()) : words;
    };
    return bare(size_mm.x) + " × " + bare(size_mm.y) + " × " + bare(size_mm.z);
}

std::string grouped(std::size_t count) {
    std::string digits = std::to_string(count);
    for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3) {
        digits.insert(static_cast<std::size_t>(at), " ");
    }
    return digits;
}

std::string file_name(const std::string& path) { return std::filesystem::path(path).filename().string(); }

bool is_number_words(std::string_view words) {
    for (const std::string_view sign : {"at ", "~", "±", "+", "-", "−", "×"}) {
        if (words.starts_with(sign)) {
            words.remove_prefix(sign.size());
        }
    }
    return !words.empty() && std::isdigit(static_cast<unsigned char>(words.front())) != 0;
}

} // namespace evenclose
