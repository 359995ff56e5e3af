// Values: REFERENCE 10 (NIST SP 811; international inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2).
#include "scene/units/units.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

using namespace evenclose;

namespace {

/// NaN, which equals nothing, where the text could not be read.
double value_of(const Read<double>& read) {
    const double* value = std::get_if<double>(&read);
    return value != nullptr ? *value : std::numeric_limits<double>::quiet_NaN();
}
std::string why_not(const Read<double>& read) {
    const auto* bad = std::get_if<Unreadable>(&read);
    return bad != nullptr ? bad->why : "";
}
bool tells(const Read<double>& read, const char* part) { return why_not(read).find(part) != std::string::npos; }

/// The nearest double, or one beside it: the product of two nearest doubles can be off by one place.
bool exact(double value, double expected) { return value == expected || std::nextafter(value, expected) == expected; }

} // namespace

TEST_CASE("10 factors are exact") {
    struct Row {
        const char* source;
        double ours, printed, derived;
    };
    const double lbf = 0.45359237 * 9.80665;
    const Row rows[] = {
        {"in", kMmPerInch, 25.4, 25.4},
        {"ft", kMmPerFoot, 304.8, 12 * 25.4},
        {"lbf", kNPerPoundForce, 4.4482216152605, lbf},
        {"psi", kMPaPerPsi, 0.006894757293168362, lbf / 645.16},
        {"kgf", kNPerKilogramForce, 9.80665, 9.80665},
        {"kgf/cm2", kMPaPerKgfPerCm2, 0.0980665, 9.80665 / 100},
        {"short ton-force", kNPerShortTon, 8896.443230521, 2000 * lbf},
        {"long ton-force", kNPerLongTon, 9964.01641818352, 2240 * lbf},
        {"tonne-force", kNPerMetricTon, 9806.65, 1000 * 9.80665},
        {"lbf in", kNmmPerPoundInch, 112.9848290276167, lbf * 25.4},
        {"lbf ft", kNmmPerPoundFoot, 1355.8179483314, lbf * 304.8},
        {"in4", kMm4PerInch4, 416231.4256, 25.4 * 25.4 * 25.4 * 25.4},
        {"in3", kMm3PerCubicInch, 16387.064, 25.4 * 25.4 * 25.4},
        {"lb/ft3", kKgPerM3PerPoundPerCubicFoot, 16.01846337396014, 0.45359237 / (0.3048 * 0.3048 * 0.3048)},
    };
    for (const Row& row : rows) {
        CAPTURE(row.source);
        CHECK(row.ours == row.printed);
        CHECK(std::abs(row.ours - row.derived) <= 4e-16 * row.derived);
    }
}

TEST_CASE("10 lengths as a shop writes them") {
    struct Row {
        const char* text;
        double mm;
    };
    const Row rows[] = {
        {"38", 38},
        {"38 mm", 38},
        {"38mm", 38},
        {" 38 MM ", 38},
        {"3.8 cm", 38},
        {"1.5 m", 1500},
        {".5 mm", 0.5},
        {"5. mm", 5},
        {"1e2 mm", 100},
        {"0", 0},
        {"-0", 0},
        // The fractions that REFERENCE 10 lists.
        {"1 1/2 in", 38.1},
        {"1-1/2\"", 38.1},
        {"31 7/8 in", 809.625},
        {"5/64 in", 1.984375},
        {"3/32\"", 2.38125},
        {"2' 8\"", 812.8},
        {"3 5/8 in", 92.075},
        // The same in other hands.
        {"1-1/2 in", 38.1},
        {"1 1/2\"", 38.1},
        {"1 1/2inch", 38.1},
        {"1-1/2 inches", 38.1},
        {"1.5''", 38.1},
        {"1\xC2\xBD in", 38.1},
        {"1 \xC2\xBD\xE2\x80\xB3", 38.1},
        {"\xC2\xBD in", 12.7},
        {"1\xE2\x81\x84"
         "2 in",
         12.7},
        {"2 ft 8 in", 812.8},
        {"2'-8\"", 812.8},
        {"2' - 8\"", 812.8},
        {"2\xE2\x80\xB2 8\xE2\x80\xB3", 812.8},
        {"2 feet 8 1/2 inches", 825.5},
        {"2'", 609.6},
        {"2 ft", 609.6},
        {"1/2 m", 500},
        {"3/2 in", 38.1},
        {"-3 mm", -3},
        {"\xE2\x88\x92"
         "3 mm",
         -3},
        {"- 3 mm", -3},
        {"+3 mm", 3},
        {"-1 1/2 in", -38.1},
        {"-2' 8\"", -812.8},
        {"-0' 8\"", -203.2},
    };
    for (const Row& row : rows) {
        CAPTURE(row.text);
        CHECK(exact(value_of(read_length_mm(row.text)), row.mm));
    }
}

TEST_CASE("10 a bare number is in the unit that the caller names, a written unit wins") {
    CHECK(exact(value_of(read_length_mm("1 1/2", LengthUnit::inch)), 38.1));
    CHECK(exact(value_of(read_length_mm("1-1/2", LengthUnit::inch)), 38.1)); // not 0.5 in
    CHECK(value_of(read_length_mm("1-1/2")) == 1.5);
    CHECK(value_of(read_length_mm("38 mm", LengthUnit::inch)) == 38);
    CHECK(exact(value_of(read_length_mm("2", LengthUnit::foot)), 609.6));
    CHECK(value_of(read_length_mm("2", LengthUnit::m)) == 2000);
}

TEST_CASE("10 what is no length is refused with what would do") {
    const char* texts[] = {
        "",         "   ",     "mm",        "12 elephants", "nan",       "inf",        "-inf mm",      "1e999",
        "1e308 m",  "0x10",    "1/0 in",    "1 1/0",        "1 -1/2 in", "1 - 1/2 in", "1- 1/2 in",    "1.5 1/2 in",
        "1 3/2 in", "1.5/2",   "1 2 in",    "12,5 mm",      "1,000 mm",  "3 mm 4",     "2' 8",         "2' 8 mm",
        "2' x",     "1//2",    "1/2/3",     "--3",          "3-",        "5 N",        "1 1/2 1/2 in", "1..5",
        ".",        "1/2 1/2", "1 in 2 ft", "\xFF\xFE",     "3 mm\n"};
    for (const char* text : texts) {
        CAPTURE(text);
        const Read<double> read = read_length_mm(text);
        CHECK(tells(read, "no length: "));
        CHECK(tells(read, "write 38, 38 mm, 1 1/2 in or 1-1/2\""));
        CHECK(why_not(read).find('\n') == std::string::npos);
    }
    CHECK(why_not(read_length_mm("12 elephants")) ==
          "no length: \"12 elephants\": \"elephants\" is no unit of length here; write 38, 38 mm, 1 1/2 in or 1-1/2\"");
    CHECK(tells(read_length_mm("12,5 mm"), "write a decimal point"));
    CHECK(tells(read_length_mm("1/0 in"), "fraction over 0"));
    CHECK(why_not(read_length_mm(std::string(100'000, 'x'))).size() < 300);
}

TEST_CASE("10 forces, ton alone is refused") {
    struct Row {
        const char* text;
        double newton;
    };
    const Row rows[] = {
        {"5", 5},
        {"5 N", 5},
        {"38.4 kN", 38400},
        {"1 lbf", 4.4482216152605},
        {"1 kgf", 9.80665},
        {"20 metric ton", 196133},
        {"20 t", 196133},
        {"20 tonnes", 196133},
        {"20 short ton", 177928.86461042},
        {"1 short tons", 8896.443230521},
        {"1 short-ton", 8896.443230521},
        {"1 long ton", 9964.01641818352},
        {"1 kip", 4448.2216152605},
        {"1/2 kN", 500},
    };
    for (const Row& row : rows) {
        CAPTURE(row.text);
        CHECK(std::abs(value_of(read_force_N(row.text)) - row.newton) <= 1e-12 * row.newton);
    }
    // "20 t": metric 196.133 kN, short 177.928864610 kN, ratio 1.1023113.
    CHECK(std::abs(value_of(read_force_N("20 t")) / value_of(read_force_N("20 short ton")) - 1.1023113) < 5e-8);
    for (const char* text : {"20 ton", "20 tons", "20 TON", "20 T"}) {
        CAPTURE(text);
        CHECK(tells(read_force_N(text), "differ by 10 %: write"));
        CHECK(tells(read_force_N(text), " metric ton or "));
    }
    CHECK(tells(read_force_N("300 lb"), "write lbf"));
    CHECK(tells(read_force_N("300 kg"), "write kgf"));
    CHECK(tells(read_force_N("3 mm"), "no unit of force"));
}

TEST_CASE("10 pressures") {
    struct Row {
        const char* text;
        double mpa;
    };
    const Row rows[] = {{"1.2", 1.2},
                        {"1.2 MPa", 1.2},
                        {"1.2 N/mm2", 1.2},
                        {"1.2 N/mm\xC2\xB2", 1.2},
                        {"1 bar", 0.1},
                        {"1 psi", 0.006894757293168362},
                        {"1 ksi", 6.894757293168362},
                        {"1 kgf/cm2", 0.0980665},
                        {"1 kgf / cm\xC2\xB2", 0.0980665},
                        {"100 kPa", 0.1},
                        {"11 GPa", 11000},
                        {"14.503773773 psi", 0.1},
                        {"145.03773773 psi", 1}};
    for (const Row& row : rows) {
        CAPTURE(row.text);
        CHECK(std::abs(value_of(read_pressure_MPa(row.text)) - row.mpa) <= 5e-11 * row.mpa); // two rows have 11 digits
    }
    CHECK(value_of(read_pressure_MPa("1 psi")) == 0.006894757293168362);
    CHECK(tells(read_pressure_MPa("1 mPa"), "capital M"));
    CHECK(tells(read_pressure_MPa("1 N"), "no pressure"));
}

TEST_CASE("10 torque, mass, density, temperature") {
    CHECK(value_of(read_torque_Nmm("1 lbf\xC2\xB7in")) == 112.9848290276167);
    CHECK(value_of(read_torque_Nmm("1 lbf ft")) == 1355.8179483314);
    CHECK(value_of(read_torque_Nmm("26 N m")) == 26000);
    CHECK(value_of(read_mass_kg("1 lb")) == 0.45359237);
    CHECK(value_of(read_mass_kg("16 oz")) == 0.45359237);
    CHECK(value_of(read_density_kg_per_m3("1 lb/ft3")) == 16.01846337396014);
    CHECK(value_of(read_density_kg_per_m3("1.24 g/cm3")) == 1240);
    CHECK(exact(value_of(read_temperature_C("68 F")), 20));
    CHECK(value_of(read_temperature_C("212 \xC2\xB0"
                                      "F")) == 100);
    CHECK(value_of(read_temperature_C("20 \xC2\xB0"
                                      "C")) == 20);
    CHECK(value_of(read_temperature_C("20")) == 20);
    CHECK(value_of(read_temperature_C("-40 F")) == -40);
    CHECK(value_of(read_temperature_C("273.15 K")) == 0);
    CHECK(tells(read_temperature_C("-300 C"), "absolute zero"));
    CHECK(tells(read_mass_kg("1 ton"), "differ by 10 %"));
}

TEST_CASE("angles and ratios") {
    constexpr double pi = 3.14159265358979323846;
    CHECK(exact(value_of(read_angle_rad("180")), pi));
    CHECK(exact(value_of(read_angle_rad("90 deg")), pi / 2));
    CHECK(exact(value_of(read_angle_rad("90\xC2\xB0")), pi / 2));
    CHECK(value_of(read_angle_rad("1.5 mrad")) == 0.0015);
    CHECK(value_of(read_angle_rad("2 rad")) == 2);
    CHECK(tells(read_angle_rad("2 mm"), "no angle"));
    CHECK(value_of(read_ratio("2 %")) == 0.02);
    CHECK(value_of(read_ratio("2%")) == 0.02);
    CHECK(value_of(read_ratio("0.02")) == 0.02);
    CHECK(value_of(read_ratio("1/2")) == 0.5);
    CHECK(value_of(read_ratio("1/2 percent")) == 0.005);
    CHECK(tells(read_ratio("2 mm"), "no ratio"));
}

TEST_CASE("names of length units") {
    CHECK(read_length_unit("mm") == LengthUnit::mm);
    CHECK(read_length_unit("Inch") == LengthUnit::inch);
    CHECK(read_length_unit(" in ") == LengthUnit::inch);
    CHECK(read_length_unit("\"") == LengthUnit::inch);
    CHECK(read_length_unit("metres") == LengthUnit::m);
    CHECK(read_length_unit("ft") == LengthUnit::foot);
    CHECK_FALSE(read_length_unit("mn"));
    CHECK_FALSE(read_length_unit(""));
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::cm, LengthUnit::m, LengthUnit::inch, LengthUnit::foot}) {
        CHECK(read_length_unit(name_of(unit)) == unit);
        CHECK(mm_per(unit) == value_of(read_length_mm("1", unit)));
    }
}

TEST_CASE("10 shown lengths: nearest 1/64 with ~ when inexact") {
    struct Row {
        double mm;
        const char* text;
    };
    const Row rows[] = {{38.1, "1 1/2 in"}, {809.625, "31 7/8 in"}, {1.984375, "5/64 in"}, {2.38125, "3/32 in"},
                        {812.8, "32 in"},   {92.075, "3 5/8 in"},   {-38.1, "-1 1/2 in"},  {0, "0 in"},
                        {-0.0, "0 in"},     {810, "~31 57/64 in"},  {25, "~63/64 in"},     {-25, "~-63/64 in"},
                        {25.3, "~1 in"},    {25.4, "1 in"},         {0.05, "~0.002 in"},   {-0.05, "~-0.002 in"},
                        {0.005, "~0 in"},   {0.4, "~0.016 in"},     {0.5, "~0.02 in"},     {0.508, "0.02 in"}};
    for (const Row& row : rows) {
        CAPTURE(row.mm);
        CHECK(show_length(row.mm, UnitSystem::inch) == row.text);
    }
    CHECK(show_length(12.5, UnitSystem::metric) == "12.5 mm");
    CHECK(show_length(12, UnitSystem::metric) == "12 mm");
    CHECK(show_length(0.126, UnitSystem::metric) == "0.13 mm");
    CHECK(show_length(0.126, UnitSystem::metric, 3) == "0.126 mm");
    CHECK(show_length(-0.001, UnitSystem::metric) == "0 mm");
    CHECK(show_length(100, UnitSystem::metric, 0) == "100 mm");
    CHECK(show_length(std::numeric_limits<double>::infinity(), UnitSystem::metric) == "inf mm");
    CHECK(show_length(std::numeric_limits<double>::infinity(), UnitSystem::inch) == "inf in");
}

TEST_CASE("10 every 64th of an inch is shown and read back the same") {
    for (int n = -640; n <= 6400; ++n) {
        const double mm = n * 25.4 / 64;
        const std::string shown = show_length(mm, UnitSystem::inch);
        CAPTURE(shown);
        CHECK(shown.find('~') == std::string::npos);
        CHECK(std::abs(value_of(read_length_mm(shown)) - mm) <= 1e-12 * std::abs(mm));
    }
}

TEST_CASE("shown forces, pressures, angles, masses") {
    CHECK(show_force(38400, UnitSystem::metric) == "38.4 kN");
    CHECK(show_force(38401.497, UnitSystem::inch) == "8633 lbf");
    CHECK(show_force(1234, UnitSystem::metric) == "1.23 kN");
    CHECK(show_force(250, UnitSystem::metric) == "250 N");
    CHECK(show_pressure(0.97, UnitSystem::metric) == "0.97 MPa");
    CHECK(show_pressure(0.97, UnitSystem::inch) == "141 psi");
    CHECK(show_pressure(0.0123, UnitSystem::metric) == "0.0123 MPa");
    CHECK(show_angle(0.0015) == "1.50 mrad (0.086 deg)");
    CHECK(show_mass(12.4, UnitSystem::metric) == "12.4 kg");
    CHECK(show_mass(12.4, UnitSystem::inch) == "27.3 lb");
}
