#include "scene/documents/object_cursor.hpp"

#include "scene/units/duration.hpp"
#include "scene/units/number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

// The numbers of an object: which kinds there are, how each is spoken of, read, and held to its range.

namespace evenclose {
namespace {

constexpr double kUnread = std::numeric_limits<double>::quiet_NaN();

} // namespace

/// A kind of number: how it is spoken of and read.
struct ObjectCursor::Quantity {
    std::string_view name; // "length"
    std::string how;       // "a number of mm, or text such as ..."
    double bare_factor;    // of a bare number
    Read<double> (*read)(std::string_view text, LengthUnit unit);
};

double ObjectCursor::number(const SourceValue& value, const std::string& place, const Quantity& quantity,
                            const NumberRange& range) {
    double result = kUnread;
    if (value.kind == SourceValue::Kind::number) {
        result = value.number * quantity.bare_factor;
    } else if (value.kind == SourceValue::Kind::text) {
        const Read<double> read = quantity.read(value.text, source_->unit());
        if (const auto* unreadable = std::get_if<Unreadable>(&read)) {
            // "no length: "3 x": "x" is no unit of length here; write 38, ...": what was read is told by us already.
            std::string_view why = unreadable->why;
            const std::string start = fmt::format("no {}: {}", quantity.name, evenclose::in_quotes(value.text));
            std::string problem = fmt::format("is no {}", quantity.name);
            std::string allowed{why};
            if (why.starts_with(start)) {
                why.remove_prefix(start.size());
                const std::size_t write = std::min(why.rfind("; write "), why.size());
                problem += why.substr(0, write);
                allowed = why.substr(std::min(write + 2, why.size()));
            }
            tell(value, place, std::move(problem), std::move(allowed));
            return kUnread;
        }
        result = std::get<double>(read);
    } else {
        tell(value, place, fmt::format("is no {}", quantity.name), fmt::format("give {}", quantity.how));
        return kUnread;
    }
    if (range.most == kLongest_mm && std::abs(result) > kLongest_mm) {
        tell(value, place, "is longer than 1 km", "is the unit right?");
        return kUnread;
    }
    if (range.least == kThinnest_mm && result > 0 && result < kThinnest_mm) {
        tell(value, place, "is thinner than a thousandth of a millimetre", "is the unit right?");
        return kUnread;
    }
    if (!(result >= range.least && result <= range.most)) {
        tell(value, place, fmt::format("is no {}", quantity.name), fmt::format("give {}", range.wanted));
        return kUnread;
    }
    return result;
}

ObjectCursor::Quantity ObjectCursor::length() const {
    return {"length",
            fmt::format(R"(a number of {}, or text such as "180 mm" or "7 1/2 in")", name_of(source_->unit())),
            mm_per(source_->unit()), [](std::string_view text, LengthUnit unit) { return read_length_mm(text, unit); }};
}

double ObjectCursor::length_mm(std::string_view key, const NumberRange& range, std::optional<double> otherwise) {
    const SourceValue* found = value(key, !otherwise, length().how);
    return found == nullptr ? otherwise.value_or(kUnread) : number(*found, place_of(place_, key), length(), range);
}

double ObjectCursor::force_N(std::string_view key) {
    const Quantity force{"force", R"(a number of N, or text such as "38 kN" or "4 metric ton")", 1.0,
                         [](std::string_view text, LengthUnit /*unused*/) { return read_force_N(text); }};
    // The largest presses ever built reach 1e9 N (common practice, no source).
    const NumberRange range{1e-3, 1e9, R"(a positive one up to 1e9 N, such as "38 kN" or "4 metric ton")"};
    const SourceValue* found = value(key, true, force.how);
    return found == nullptr ? kUnread : number(*found, place_of(place_, key), force, range);
}

// The greatest are beyond what a shop's press has, by a factor of a thousand or more; they catch a mistaken unit.

double ObjectCursor::mass_kg(std::string_view key) {
    return quantity(key,
                    {"mass", "a number of kg, or text such as \"18 kg\" or \"40 lb\"", 1.0,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_mass_kg(text); }},
                    {1e-6, 1e6, "a positive one up to 1e6 kg, such as \"18 kg\" or \"40 lb\""});
}

double ObjectCursor::density_kg_per_m3(std::string_view key) {
    return quantity(key,
                    {"density", "a number of kg/m3, or text such as \"540 kg/m3\" or \"34 lb/ft3\"", 1.0,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_density_kg_per_m3(text); }},
                    {1, 25000, "a positive one up to 25 000 kg/m3, such as \"540 kg/m3\" or \"34 lb/ft3\""});
}

double ObjectCursor::torque_Nmm(std::string_view key) {
    return quantity(key,
                    {"torque", "a number of N mm, or text such as \"26 N m\" or \"19 lbf ft\"", 1.0,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_torque_Nmm(text); }},
                    {1e-3, 1e9, "a positive one up to 1e9 N mm, such as \"26 N m\" or \"19 lbf ft\""});
}

double ObjectCursor::pressure_MPa(std::string_view key) {
    return quantity(key,
                    {"pressure", "a number of MPa, or text such as \"160 bar\" or \"2300 psi\"", 1.0,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_pressure_MPa(text); }},
                    {1e-6, 1e6, "a positive one up to 1e6 MPa, such as \"160 bar\" or \"2300 psi\""});
}

double ObjectCursor::turns_a_second(std::string_view key) {
    return quantity(key,
                    {"speed", "a number of turns a minute, or text such as \"60 rpm\"", 1.0 / 60,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_speed_turns_per_s(text); }},
                    {1e-6, 1e4, "a positive one up to 10 000 turns a second, such as \"60 rpm\""});
}

double ObjectCursor::flow_mm3_a_second(std::string_view key) {
    return quantity(key,
                    {"flow", "a number of l/min, or text such as \"2 l/min\" or \"30 ml/s\"", 1e6 / 60,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_flow_mm3_per_s(text); }},
                    {1e-3, 1e12, "a positive one, such as \"2 l/min\" or \"30 ml/s\""});
}

double ObjectCursor::quantity(std::string_view key, const Quantity& kind, const NumberRange& range) {
    const SourceValue* found = value(key, true, kind.how);
    return found == nullptr ? kUnread : number(*found, place_of(place_, key), kind, range);
}

double ObjectCursor::angle_rad(std::string_view key, std::optional<double> otherwise) {
    constexpr double degree = std::numbers::pi / 180;
    const Quantity angle{"angle", "a number of degrees, or text such as \"15 deg\"", degree,
                         [](std::string_view text, LengthUnit /*unused*/) { return read_angle_rad(text); }};
    // More than once round says nothing new. A little over, for rounding.
    const NumberRange range{-360.000001 * degree, 360.000001 * degree, "one from -360 to 360 deg"};
    const SourceValue* found = value(key, !otherwise, angle.how);
    return found == nullptr ? otherwise.value_or(kUnread) : number(*found, place_of(place_, key), angle, range);
}

double ObjectCursor::duration_s(std::string_view key, std::optional<double> otherwise) {
    const Quantity time{"time", "a number of minutes, or text such as \"90 s\" or \"1 h 30 min\"", 60,
                        [](std::string_view text, LengthUnit /*unused*/) { return read_duration_s(text); }};
    const NumberRange range{0, 365 * 86400.0, "0 or a positive one up to a year, such as \"90 s\" or \"20 min\""};
    const SourceValue* found = value(key, !otherwise, time.how);
    return found == nullptr ? otherwise.value_or(kUnread) : number(*found, place_of(place_, key), time, range);
}

double ObjectCursor::temperature_C(std::string_view key) {
    // Hot presses reach 200 C and more (common practice, no source).
    return quantity(key,
                    {"temperature", "a number of C, or text such as \"20 C\" or \"68 F\"", 1.0,
                     [](std::string_view text, LengthUnit /*unused*/) { return read_temperature_C(text); }},
                    {-30, 300, "one from -30 to 300 C, such as \"20 C\" or \"68 F\""});
}

double ObjectCursor::fraction(std::string_view key, const NumberRange& range, std::optional<double> otherwise) {
    const Quantity fraction{"ratio", "a number, or text such as \"1 %\"", 1.0,
                            [](std::string_view text, LengthUnit /*unused*/) { return read_ratio(text); }};
    const SourceValue* found = value(key, !otherwise, fraction.how);
    return found == nullptr ? otherwise.value_or(kUnread) : number(*found, place_of(place_, key), fraction, range);
}

std::vector<double> ObjectCursor::lengths_mm(std::string_view key, std::initializer_list<std::string_view> names,
                                             const NumberRange& range, std::optional<double> otherwise) {
    std::string form;
    for (const std::string_view name : names) {
        form += form.empty() ? "[" : ", ";
        form += name;
    }
    form += "]";
    std::vector<double> result(names.size(), kUnread);
    const SourceValue* found = value(key, !otherwise, form);
    if (found == nullptr) {
        std::fill(result.begin(), result.end(), otherwise.value_or(kUnread));
        return result;
    }
    if (found->kind != SourceValue::Kind::list || found->items.size() != names.size()) {
        tell(*found, place_of(place_, key), fmt::format("is no list of {} lengths", names.size()),
             fmt::format("give {}", form));
        return result;
    }
    for (std::size_t i = 0; i < names.size(); ++i) {
        result[i] = number(found->items[i], place_of(place_of(place_, key), i), length(), range);
    }
    return result;
}

std::vector<double> ObjectCursor::length_list_mm(std::string_view key, std::size_t count, const NumberRange& range) {
    return length_list_mm(key, count, count, range);
}

std::vector<double> ObjectCursor::length_list_mm(std::string_view key, std::size_t least, std::size_t most,
                                                 const NumberRange& range) {
    const std::string wanted = least == most ? fmt::format("a list of {} lengths", most)
                                             : fmt::format("a list of {} to {} lengths", least, most);
    const SourceValue* found = value(key, true, wanted);
    if (found == nullptr) {
        return {};
    }
    if (found->kind != SourceValue::Kind::list || found->items.size() < least || found->items.size() > most) {
        tell(*found, place_of(place_, key), fmt::format("is not {}", wanted), fmt::format("give {} in [ ]", wanted));
        return {};
    }
    std::vector<double> lengths;
    for (std::size_t i = 0; i < found->items.size(); ++i) {
        lengths.push_back(number(found->items[i], place_of(place_of(place_, key), i), length(), range));
    }
    return lengths;
}

std::vector<Vec2> ObjectCursor::places_mm(std::string_view key, std::size_t least) {
    const std::string wanted = fmt::format("{} places or more: [[x, y], [x, y], ...]", least);
    const SourceValue* found = value(key, true, wanted);
    if (found == nullptr) {
        return {};
    }
    const std::string place = place_of(place_, key);
    if (found->kind != SourceValue::Kind::list || found->items.size() < least) {
        tell(*found, place, found->kind != SourceValue::Kind::list ? "is no list of places" : "is too few",
             fmt::format("give {}", wanted));
        return {};
    }
    std::vector<Vec2> result;
    for (std::size_t i = 0; i < found->items.size(); ++i) {
        const SourceValue& item = found->items[i];
        const std::string at = place_of(place, i);
        if (item.kind != SourceValue::Kind::list || item.items.size() != 2) {
            tell(item, at, "is no list of 2 lengths", "give [x, y]");
            return {};
        }
        const double x = number(item.items[0], place_of(at, 0), length(), kAnyLength);
        const double y = number(item.items[1], place_of(at, 1), length(), kAnyLength);
        result.emplace_back(x, y);
    }
    return result;
}

} // namespace evenclose
