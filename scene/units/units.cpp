#include "scene/units/units.hpp"

#include "scene/units/number.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <span>

namespace evenclose {
namespace {

/// A unit as it may be written. Letters are compared without case unless `exact`: "MPa" is not "mPa".
struct UnitWord {
    std::string_view word;
    double factor;
    bool exact = false;
};

/// A kind of quantity: its units, and how a message speaks of it.
struct Quantity {
    std::string_view name;     // "length"
    std::string_view examples; // "38, 38 mm, 1 1/2 in or 1-1/2\""
    std::span<const UnitWord> units;
};

constexpr UnitWord kLengths[] = {
    {"mm", 1},           {"millimetre", 1},   {"millimetres", 1},   {"millimeter", 1},  {"millimeters", 1},
    {"cm", 10},          {"centimetre", 10},  {"centimetres", 10},  {"centimeter", 10}, {"centimeters", 10},
    {"m", 1000},         {"metre", 1000},     {"metres", 1000},     {"meter", 1000},    {"meters", 1000},
    {"in", kMmPerInch},  {"in.", kMmPerInch}, {"inch", kMmPerInch}, {"\"", kMmPerInch}, {"inches", kMmPerInch},
    {"''", kMmPerInch},  {"ft", kMmPerFoot},  {"ft.", kMmPerFoot},  {"'", kMmPerFoot},  {"foot", kMmPerFoot},
    {"feet", kMmPerFoot}};

constexpr UnitWord kForces[] = {{"N", 1},
                                {"newton", 1},
                                {"newtons", 1},
                                {"kN", 1000},
                                {"lbf", kNPerPoundForce},
                                {"kip", 1000 * kNPerPoundForce},
                                {"kips", 1000 * kNPerPoundForce},
                                {"kgf", kNPerKilogramForce},
                                {"kp", kNPerKilogramForce},
                                {"t", kNPerMetricTon, true},
                                {"tf", kNPerMetricTon, true},
                                {"tonne", kNPerMetricTon},
                                {"tonnes", kNPerMetricTon},
                                {"metric ton", kNPerMetricTon},
                                {"metric tons", kNPerMetricTon},
                                {"short ton", kNPerShortTon},
                                {"short tons", kNPerShortTon},
                                {"long ton", kNPerLongTon},
                                {"long tons", kNPerLongTon}};

constexpr UnitWord kPressures[] = {{"MPa", 1, true},
                                   {"N/mm2", 1},
                                   {"N/mm^2", 1},
                                   {"GPa", 1000},
                                   {"kPa", 0.001},
                                   {"Pa", 1e-6},
                                   {"bar", 0.1},
                                   {"mbar", 1e-4},
                                   {"psi", kMPaPerPsi},
                                   {"lbf/in2", kMPaPerPsi},
                                   {"ksi", 1000 * kMPaPerPsi},
                                   {"kgf/cm2", kMPaPerKgfPerCm2},
                                   {"kgf/cm^2", kMPaPerKgfPerCm2}};

constexpr double kDegree = std::numbers::pi / 180;
constexpr UnitWord kAngles[] = {{"deg", kDegree}, {"degree", kDegree},    {"degrees", kDegree},
                                {"mrad", 0.001},  {"milliradian", 0.001}, {"milliradians", 0.001},
                                {"rad", 1},       {"radian", 1},          {"radians", 1}};

constexpr UnitWord kTorques[] = {{"N mm", 1},
                                 {"Nmm", 1},
                                 {"N m", 1000},
                                 {"Nm", 1000},
                                 {"kN m", 1e6},
                                 {"kNm", 1e6},
                                 {"lbf in", kNmmPerPoundInch},
                                 {"in lbf", kNmmPerPoundInch},
                                 {"lbf ft", kNmmPerPoundFoot},
                                 {"ft lbf", kNmmPerPoundFoot}};

constexpr UnitWord kMasses[] = {{"kg", 1},
                                {"g", 0.001},
                                {"gram", 0.001},
                                {"grams", 0.001},
                                {"lb", kKgPerPound},
                                {"lbs", kKgPerPound},
                                {"pound", kKgPerPound},
                                {"pounds", kKgPerPound},
                                {"oz", kKgPerPound / 16},
                                {"t", 1000, true},
                                {"tonne", 1000},
                                {"tonnes", 1000},
                                {"metric ton", 1000},
                                {"metric tons", 1000}};

constexpr UnitWord kDensities[] = {{"kg/m3", 1},
                                   {"kg/m^3", 1},
                                   {"g/cm3", 1000},
                                   {"g/cm^3", 1000},
                                   {"lb/ft3", kKgPerM3PerPoundPerCubicFoot},
                                   {"lb/ft^3", kKgPerM3PerPoundPerCubicFoot}};

constexpr UnitWord kSpeeds[] = {{"rpm", 1.0 / 60},      {"r/min", 1.0 / 60},   {"turns/min", 1.0 / 60},
                                {"turn/min", 1.0 / 60}, {"rev/min", 1.0 / 60}, {"turns/s", 1},
                                {"turn/s", 1},          {"rev/s", 1},          {"deg/s", 1.0 / 360}};

constexpr double kLitre = 1e6;
constexpr double kUsGallon = 231 * kMm3PerCubicInch;
constexpr UnitWord kFlows[] = {{"l/min", kLitre / 60},
                               {"litre/min", kLitre / 60},
                               {"l/s", kLitre},
                               {"ml/s", kLitre / 1000},
                               {"ml/min", kLitre / 60'000},
                               {"cm3/s", kLitre / 1000},
                               {"cm3/min", kLitre / 60'000},
                               {"gal/min", kUsGallon / 60},
                               {"gpm", kUsGallon / 60},
                               {"in3/min", kMm3PerCubicInch / 60},
                               {"in3/s", kMm3PerCubicInch}};

constexpr Quantity kLength{"length", "38, 38 mm, 1 1/2 in or 1-1/2\"", kLengths};
constexpr Quantity kForce{"force", "38000 N, 38 kN, 8600 lbf, 3900 kgf, 4 metric ton or 4 short ton", kForces};
constexpr Quantity kPressure{"pressure", "0.97 MPa, 9.7 bar, 141 psi or 10 kgf/cm2", kPressures};
constexpr Quantity kAngle{"angle", "12 deg, 1.5 mrad or 0.02 rad", kAngles};
constexpr Quantity kTorque{"torque", "500 N mm, 26 N m, 230 lbf in or 19 lbf ft", kTorques};
constexpr Quantity kMass{"mass", "18 kg, 350 g or 40 lb", kMasses};
constexpr Quantity kSpeed{"speed", "60 rpm, 1 turns/s or 90 deg/s", kSpeeds};
constexpr Quantity kFlow{"flow", "2 l/min, 30 ml/s or 0.5 gal/min", kFlows};
constexpr Quantity kDensity{"density", "540 kg/m3, 0.54 g/cm3 or 34 lb/ft3", kDensities};

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_word(std::string_view a, std::string_view b, bool exact) {
    if (a.size() != b.size()) {
        return false;
    }
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (exact ? a[i] != b[i] : lower(a[i]) != lower(b[i])) {
            return false;
        }
    }
    return true;
}

/// One space for several, none around a slash: "kgf / cm2" is "kgf/cm2", "short  ton" is "short ton". A hyphen between
/// words ("short-ton", "N-m") is a space.
std::string tidied(std::string_view unit) {
    std::string result;
    for (std::size_t i = 0; i < unit.size(); ++i) {
        const bool hyphen = unit[i] == '-' && i > 0 && i + 1 < unit.size();
        const char c = unit[i] == '\t' || hyphen ? ' ' : unit[i];
        if (c == ' ' && (result.empty() || result.back() == ' ' || result.back() == '/')) {
            continue;
        }
        if (c == '/' && !result.empty() && result.back() == ' ') {
            result.pop_back();
        }
        result += c;
    }
    return result;
}

const UnitWord* find_unit(std::span<const UnitWord> units, std::string_view written) {
    const std::string word = tidied(written);
    for (const UnitWord& unit : units) {
        if (same_word(unit.word, word, unit.exact)) {
            return &unit;
        }
    }
    return nullptr;
}

Unreadable no_such(const Quantity& quantity, std::string_view text, std::string_view reason) {
    return {fmt::format("no {}: {}{}{}; write {}", quantity.name, in_quotes(text), reason.empty() ? "" : ": ", reason,
                        quantity.examples)};
}

bool is_bare_ton(std::string_view written) {
    const std::string word = tidied(written);
    return same_word(word, "ton", false) || same_word(word, "tons", false) || same_word(word, "T", true);
}

/// Why a unit that is nearly right is refused; empty if there is nothing better to say than what may be written.
std::string refusal_of(const Quantity& quantity, std::string_view written) {
    const std::string word = tidied(written);
    if (quantity.name == "force") {
        if (same_word(word, "lb", false) || same_word(word, "lbs", false)) {
            return "lb is a mass: for a force write lbf";
        }
        if (same_word(word, "kg", false)) {
            return "kg is a mass: for a force write kgf";
        }
    }
    if (quantity.name == "mass" && (same_word(word, "ton", false) || same_word(word, "tons", false))) {
        return "a metric and a short ton differ by 10 %: write kg or lb";
    }
    if (quantity.name == "pressure" && same_word(word, "mpa", false)) {
        return "a millionth of what MPa is may not be meant: write MPa with a capital M";
    }
    return fmt::format("{} is no unit of {} here", in_quotes(word), quantity.name);
}

Read<double> read_quantity(std::string_view text, const Quantity& quantity, double bare_factor) {
    const std::string plain = plain_text(text);
    if (plain.empty()) {
        return no_such(quantity, text, "nothing is written");
    }
    const Read<NumberAndRest> read = read_number(plain);
    if (const auto* bad = std::get_if<Unreadable>(&read)) {
        return no_such(quantity, text, bad->why);
    }
    const auto& number = std::get<NumberAndRest>(read);
    double factor = bare_factor;
    if (!number.rest.empty()) {
        const UnitWord* unit = find_unit(quantity.units, number.rest);
        if (unit == nullptr) {
            if (is_bare_ton(number.rest) && quantity.name == "force") {
                return Unreadable{fmt::format(
                    "no force: {}: a metric and a short ton differ by 10 %: write {} metric ton or {} short ton",
                    in_quotes(text), number.value, number.value)};
            }
            return no_such(quantity, text, refusal_of(quantity, number.rest));
        }
        factor = unit->factor;
    }
    const double value = number.value * factor;
    if (!std::isfinite(value)) {
        return no_such(quantity, text, "too large a number");
    }
    return value;
}

/// Feet and inches in one, such as 2' 8" or 2 ft 8 1/2 in, in mm; nothing if the text is not of that shape.
std::optional<Read<double>> read_feet_and_inches_mm(std::string_view text) {
    const std::string plain = plain_text(text);
    const Read<NumberAndRest> first = read_number(plain);
    const auto* feet = std::get_if<NumberAndRest>(&first);
    if (feet == nullptr) {
        return {};
    }
    std::string_view rest = feet->rest;
    bool is_feet = false;
    for (const std::string_view word : {"feet", "foot", "ft.", "ft", "'"}) {
        if (rest.size() > word.size() && same_word(rest.substr(0, word.size()), word, false)) {
            rest.remove_prefix(word.size());
            is_feet = true;
            break;
        }
    }
    if (!is_feet || rest.front() == '\'') { // '' is inches
        return {};
    }
    while (!rest.empty() && (rest.front() == ' ' || rest.front() == '-')) { // 2'-8" as drawings write it
        rest.remove_prefix(1);
    }
    const Read<NumberAndRest> second = read_number(rest);
    if (const auto* bad = std::get_if<Unreadable>(&second)) {
        return no_such(kLength, text, "after the feet " + bad->why);
    }
    const auto& inches = std::get<NumberAndRest>(second);
    const UnitWord* unit = find_unit(kLengths, inches.rest);
    if (unit == nullptr || unit->factor != kMmPerInch) {
        return no_such(kLength, text, "after feet say inches, as in 2' 8\"");
    }
    const double sign = plain.front() == '-' ? -1 : 1;
    const double mm = feet->value * kMmPerFoot + sign * inches.value * kMmPerInch;
    if (!std::isfinite(mm)) {
        return no_such(kLength, text, "too large a number");
    }
    return mm;
}

/// At most `decimals` of them, trailing zeros dropped, never "-0".
std::string rounded(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals < 0 ? 0 : decimals);
    if (text.find('.') != text.npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
    }
    return text == "-0" ? "0" : text;
}

std::string show_inches(double mm) {
    const double inches = mm / kMmPerInch;
    const double magnitude = std::abs(inches);
    const double sixty_fourths = std::round(magnitude * 64);
    // A value that came from a fraction carries a few roundings of a double; a micro-inch is no fraction.
    const bool exact = std::abs(magnitude * 64 - sixty_fourths) <= 1e-12 * (1 + sixty_fourths);
    if (!std::isfinite(inches) || sixty_fourths > 1e12) {
        return fmt::format("{:g} in", inches);
    }
    const char* sign = inches < 0 ? "-" : "";
    // A gap is not cut to a rule's 64ths: below a quarter inch thousandths say it, as a feeler gauge is marked.
    if (!exact && magnitude < 0.25) {
        const bool whole_thousandths = std::abs(inches * 1000 - std::round(inches * 1000)) <= 1e-9;
        return fmt::format("{}{} in", whole_thousandths ? "" : "~", rounded(inches, 3));
    }
    if (sixty_fourths == 0) {
        return "0 in";
    }
    auto numerator = static_cast<long long>(sixty_fourths);
    const long long whole = numerator / 64;
    numerator %= 64;
    long long denominator = 64;
    while (numerator != 0 && numerator % 2 == 0) {
        numerator /= 2;
        denominator /= 2;
    }
    const char* about = exact ? "" : "~";
    if (numerator == 0) {
        return fmt::format("{}{}{} in", about, sign, whole);
    }
    if (whole == 0) {
        return fmt::format("{}{}{}/{} in", about, sign, numerator, denominator);
    }
    return fmt::format("{}{}{} {}/{} in", about, sign, whole, numerator, denominator);
}

} // namespace

Read<double> read_length_mm(std::string_view text, LengthUnit bare) {
    if (auto both = read_feet_and_inches_mm(text)) {
        return *both;
    }
    return read_quantity(text, kLength, mm_per(bare));
}

Read<double> read_force_N(std::string_view text) { return read_quantity(text, kForce, 1); }
Read<double> read_pressure_MPa(std::string_view text) { return read_quantity(text, kPressure, 1); }
Read<double> read_angle_rad(std::string_view text) { return read_quantity(text, kAngle, kDegree); }
Read<double> read_torque_Nmm(std::string_view text) { return read_quantity(text, kTorque, 1); }
Read<double> read_mass_kg(std::string_view text) { return read_quantity(text, kMass, 1); }
Read<double> read_speed_turns_per_s(std::string_view text) { return read_quantity(text, kSpeed, 1.0 / 60); }
Read<double> read_flow_mm3_per_s(std::string_view text) { return read_quantity(text, kFlow, kLitre / 60); }
Read<double> read_density_kg_per_m3(std::string_view text) { return read_quantity(text, kDensity, 1); }

Read<double> read_temperature_C(std::string_view text) {
    static constexpr UnitWord scales[] = {{"degC", 0}, {"C", 0},     {"deg C", 0},      {"celsius", 0}, {"degF", 1},
                                          {"F", 1},    {"deg F", 1}, {"fahrenheit", 1}, {"K", 2},       {"kelvin", 2}};
    static constexpr Quantity temperature{"temperature", "20 C, 68 F or 293 K", scales};
    const std::string plain = plain_text(text);
    const Read<NumberAndRest> read = read_number(plain);
    if (const auto* bad = std::get_if<Unreadable>(&read)) {
        return no_such(temperature, text, bad->why);
    }
    const auto& number = std::get<NumberAndRest>(read);
    double celsius = number.value;
    if (!number.rest.empty()) {
        const UnitWord* scale = find_unit(scales, number.rest);
        if (scale == nullptr) {
            return no_such(temperature, text, refusal_of(temperature, number.rest));
        }
        celsius = scale->factor == 1 ? (number.value - 32) / 1.8 : scale->factor == 2 ? number.value - 273.15 : celsius;
    }
    if (celsius < -273.15) {
        return no_such(temperature, text, "below absolute zero");
    }
    return celsius;
}

Read<double> read_ratio(std::string_view text) {
    static constexpr UnitWord words[] = {{"%", 0.01}, {"percent", 0.01}, {"per cent", 0.01}};
    static constexpr Quantity ratio{"ratio", "2 % or 0.02", words};
    return read_quantity(text, ratio, 1);
}

std::optional<LengthUnit> read_length_unit(std::string_view text) {
    const UnitWord* unit = find_unit(kLengths, plain_text(text));
    if (unit == nullptr) {
        return {};
    }
    for (const LengthUnit each : {LengthUnit::mm, LengthUnit::cm, LengthUnit::m, LengthUnit::inch, LengthUnit::foot}) {
        if (mm_per(each) == unit->factor) {
            return each;
        }
    }
    return {};
}

double mm_per(LengthUnit unit) {
    switch (unit) {
    case LengthUnit::mm:
        return 1;
    case LengthUnit::cm:
        return 10;
    case LengthUnit::m:
        return 1000;
    case LengthUnit::inch:
        return kMmPerInch;
    case LengthUnit::foot:
        return kMmPerFoot;
    }
    return 1;
}

const char* name_of(LengthUnit unit) {
    switch (unit) {
    case LengthUnit::mm:
        return "mm";
    case LengthUnit::cm:
        return "cm";
    case LengthUnit::m:
        return "m";
    case LengthUnit::inch:
        return "in";
    case LengthUnit::foot:
        return "ft";
    }
    return "";
}

std::string show_length(double mm, UnitSystem system, int decimals) {
    return system == UnitSystem::inch ? show_inches(mm) : rounded(mm, decimals) + " mm";
}

std::string show_force(double newton, UnitSystem system) {
    if (system == UnitSystem::inch) {
        const double lbf = newton / kNPerPoundForce;
        return rounded(lbf, std::abs(lbf) < 100 ? 1 : 0) + " lbf";
    }
    if (std::abs(newton) >= 1000) {
        return rounded(newton / 1000, std::abs(newton) < 10'000 ? 2 : 1) + " kN";
    }
    return rounded(newton, std::abs(newton) < 100 ? 1 : 0) + " N";
}

std::string show_pressure(double mpa, UnitSystem system) {
    if (system == UnitSystem::inch) {
        const double psi = mpa / kMPaPerPsi;
        return rounded(psi, std::abs(psi) < 10 ? 1 : 0) + " psi";
    }
    return rounded(mpa, std::abs(mpa) < 0.1 ? 4 : 2) + " MPa";
}

std::string show_angle(double rad) { return fmt::format("{:.2f} mrad ({:.3f} deg)", rad * 1000, rad / kDegree); }

std::string show_mass(double kg, UnitSystem system) {
    if (system == UnitSystem::inch) {
        return rounded(kg / kKgPerPound, 1) + " lb";
    }
    return rounded(kg, std::abs(kg) < 1 ? 3 : 1) + " kg";
}

} // namespace evenclose
