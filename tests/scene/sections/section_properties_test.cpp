#include "scene/sections/section_properties.hpp"

#include "scene/sections/composite.hpp"
#include "scene/units/units.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace evenclose {
using test::near;
using test::within;

TEST_CASE("5.10 rolled equal angles with root and toe radius (EN 10056-1, by way of a maker's table)") {
    struct Row {
        double leg, t, root, A, c, I, Iu, Iv; // mm; cm2, cm, cm4
    };
    const Row rows[] = {
        {40, 4, 6, 3.079, 1.120, 4.473, 7.088, 1.858},         {50, 5, 7, 4.803, 1.404, 10.964, 17.382, 4.547},
        {50, 6, 7, 5.693, 1.445, 12.841, 20.343, 5.339},       {60, 6, 8, 6.909, 1.688, 22.792, 36.144, 9.441},
        {70, 7, 9, 9.397, 1.971, 42.298, 67.091, 17.505},      {80, 8, 10, 12.267, 2.255, 72.247, 114.614, 29.880},
        {100, 10, 12, 19.155, 2.822, 176.676, 280.347, 73.005}};
    for (const Row& row : rows) {
        CAPTURE(row.leg);
        CAPTURE(row.t);
        const auto angle = properties_of(AngleSection{row.leg, row.leg, row.t, row.root, 0.5 * row.root}).value();
        CHECK(within(angle.area_mm2, 100 * row.A, 0.003));
        CHECK(within(angle.centroid_mm.x + 0.5 * row.leg, 10 * row.c, 0.003));
        CHECK(within(angle.centroid_mm.y + 0.5 * row.leg, 10 * row.c, 0.003));
        CHECK(within(angle.Iu_mm4, 1e4 * row.I, 0.003));
        CHECK(within(angle.Iv_mm4, 1e4 * row.I, 0.003));
        CHECK(within(angle.major_mm4(), 1e4 * row.Iu, 0.003));
        CHECK(within(angle.minor_mm4(), 1e4 * row.Iv, 0.003));
        CHECK(within(0.00785 * angle.area_mm2, 0.785 * row.A, 0.003)); // kg/m at 7850 kg/m3
        CHECK(near(std::abs(angle.principal_angle_rad()), std::numbers::pi / 4, 1e-9));
    }
    // Square corners miss by what the reference says: 50x50x5 has 4.75 cm2 and 11.25 cm4.
    const auto square = properties_of(AngleSection{50, 50, 5, 0, 0}).value();
    CHECK(within(square.area_mm2, 475, 1e-12));
    CHECK(within(square.Iu_mm4, 112500, 5e-4));
}

TEST_CASE("5.10 AISC angles as square-cornered ones (v15 tables, second-hand)") {
    struct Row {
        double leg, t, A, I, Iz; // inches
    };
    const Row rows[] = {{2, 0.25, 0.944, 0.346, 0.142},
                        {2.5, 0.25, 1.19, 0.692, 0.276},
                        {3, 0.25, 1.44, 1.23, 0.490},
                        {3, 0.375, 2.11, 1.75, 0.716}};
    for (const Row& row : rows) {
        CAPTURE(row.leg);
        const double leg = row.leg * kMmPerInch;
        const auto angle = properties_of(AngleSection{leg, leg, row.t * kMmPerInch, 0, 0}).value();
        CHECK(within(angle.area_mm2 / (kMmPerInch * kMmPerInch), row.A, 0.017));
        CHECK(within(angle.Iu_mm4 / kMm4PerInch4, row.I, 0.02)); // 2x2x1/4: 1.7 % by the reference, table rounded
        CHECK(within(angle.minor_mm4() / kMm4PerInch4, row.Iz, 0.04));
    }
    const auto small = properties_of(AngleSection{50.8, 50.8, 6.35, 0, 0}).value();
    CHECK(within(small.J_mm4 / kMm4PerInch4, 0.0209, 0.07)); // the fillet is left out
}

TEST_CASE("5.10 rectangular hollow sections: EN 10219 with the nominal wall, AISC with 0.93 of it") {
    struct Metric {
        double w, d, t, A, Iu, Iv; // mm; cm2, cm4
    };
    const Metric metric[] = {{50, 50, 3, 5.408, 19.467, 19.467},
                             {60, 60, 3, 6.608, 35.135, 35.135},
                             {80, 80, 4, 11.748, 111.043, 111.043},
                             {40, 80, 3, 6.608, 52.251, 17.556},
                             {50, 100, 4, 10.948, 134.138, 44.949}};
    for (const Metric& row : metric) {
        CAPTURE(row.d);
        const auto tube = properties_of(TubeSection{row.w, row.d, row.t, 2 * row.t}).value();
        CHECK(within(tube.area_mm2, 100 * row.A, 0.002));
        CHECK(within(tube.Iu_mm4, 1e4 * row.Iu, 0.002));
        CHECK(within(tube.Iv_mm4, 1e4 * row.Iv, 0.002));
    }
    struct Inch {
        double w, d, t, A, Iu, Iv;
    };
    const Inch inch[] = {
        {2, 2, 0.25, 1.51, 0.747, 0.747}, {2, 4, 0.25, 2.44, 4.49, 1.48}, {4, 4, 0.25, 3.37, 7.80, 7.80}};
    for (const Inch& row : inch) {
        CAPTURE(row.d);
        const double t = row.t * kMmPerInch;
        const TubeSection drawn{row.w * kMmPerInch, row.d * kMmPerInch, t, 2 * t};
        const auto tube = properties_of(drawn, kDesignWallAisc).value();
        CHECK(within(tube.area_mm2 / (kMmPerInch * kMmPerInch), row.A, 0.005));
        CHECK(within(tube.Iu_mm4 / kMm4PerInch4, row.Iu, 0.005));
        CHECK(within(tube.Iv_mm4 / kMm4PerInch4, row.Iv, 0.005));
        CHECK(properties_of(drawn)->area_mm2 > 1.03 * tube.area_mm2);
    }
}

TEST_CASE("5.10 pipes of ASME B36.10 schedule 40, nominal wall, 2 inch by AISC with 0.93 of it") {
    struct Row {
        double outside, wall, A, I; // in, in, mm2, mm4
    };
    const Row rows[] = {{1.315, 0.133, 318.6, 36355},   {1.660, 0.140, 431.3, 81044},   {1.900, 0.145, 515.8, 128988},
                        {2.375, 0.154, 693.2, 277105},  {2.875, 0.203, 1099.4, 636648}, {3.500, 0.216, 1437.7, 1255835},
                        {4.500, 0.237, 2047.8, 3010436}};
    for (const Row& row : rows) {
        CAPTURE(row.outside);
        const auto pipe = properties_of(PipeSection{row.outside * kMmPerInch, row.wall * kMmPerInch}).value();
        CHECK(near(pipe.area_mm2, row.A, 0.051));
        CHECK(near(pipe.Iu_mm4, row.I, 0.51));
        CHECK(pipe.J_mm4 == 2 * pipe.Iu_mm4);
    }
    const PipeSection two{2.375 * kMmPerInch, 0.154 * kMmPerInch};
    CHECK(within(properties_of(two, kDesignWallAisc)->Iu_mm4 / kMm4PerInch4, 0.627, 0.005));
    CHECK(within(properties_of(two)->Iu_mm4 / kMm4PerInch4, 0.666, 0.001));
}

TEST_CASE("5.10 dressed lumber (inches)") {
    struct Row {
        double width, depth, I, S;
    };
    const Row rows[] = {{1.5, 3.5, 5.359, 3.0625},  {1.5, 5.5, 20.797, 7.5625},  {1.5, 7.25, 47.635, 13.1406},
                        {3.5, 3.5, 12.505, 7.1458}, {3.5, 5.5, 48.526, 17.6458}, {5.5, 5.5, 76.255, 27.7292}};
    for (const Row& row : rows) {
        CAPTURE(row.depth);
        const auto board = properties_of(TimberSection{row.width * kMmPerInch, row.depth * kMmPerInch}).value();
        CHECK(near(board.Iu_mm4 / kMm4PerInch4, row.I, 0.00051));
        CHECK(near(board.modulus_u_mm3() / kMm3PerCubicInch, row.S, 0.000051));
        CHECK(board.Iuv_mm4 == 0);
    }
}

TEST_CASE("torsion of solid rectangles: 0.1406 a^4 square, 0.229 a b^3 at 2:1 (Timoshenko and Goodier, art. 109)") {
    CHECK(within(properties_of(TimberSection{10, 10})->J_mm4, 0.1406e4, 5e-4));
    CHECK(within(properties_of(TimberSection{10, 20})->J_mm4, 0.229 * 20 * 1000, 2e-3));
    CHECK(within(properties_of(PlateSection{1000, 1})->J_mm4, 1000.0 / 3, 1e-3));
}

TEST_CASE("a rod has 9/10 of its area in shear, a thin pipe half (Wood Handbook, Cowper)") {
    const auto rod = properties_of(PipeSection{20, 10}).value();
    CHECK(within(rod.shear_area_v_mm2, 0.9 * rod.area_mm2, 1e-12));
    CHECK(within(rod.area_mm2, std::numbers::pi * 100, 1e-12));
    const auto thin = properties_of(PipeSection{1000, 1}).value();
    CHECK(within(thin.shear_area_u_mm2, 0.5 * thin.area_mm2, 1e-3));
    CHECK(properties_of(PipeSection{20, 10}, kDesignWallAisc)->area_mm2 == rod.area_mm2); // a rod has no wall
}

TEST_CASE("bending of an angle about a leg's axis: stress follows the principal axes") {
    const auto angle = properties_of(AngleSection{50, 50, 5, 0, 0}).value();
    // Resolved by hand along the principal axes at 45 degrees.
    const double M = 1e5;
    const Vec2 fibre = angle.fibres_mm.back();
    const double root2 = std::sqrt(0.5);
    const double along = root2 * (fibre.x + fibre.y);
    const double across = root2 * (fibre.y - fibre.x);
    // Mu alone: M (v) = M/sqrt2 on each; Iuv < 0, so the greatest I is that of `across`.
    const double expected = M * root2 * along / angle.minor_mm4() + M * root2 * across / angle.major_mm4();
    CHECK(angle.Iuv_mm4 < 0);
    CHECK(within(angle.normal_stress_MPa(0, M, 0, fibre), expected, 1e-9));
}

TEST_CASE("5.11 flitch: two 38x140 and a plate 6x140 side by side") {
    const auto wood = properties_of(TimberSection{38, 140}).value();
    const auto plate = properties_of(TimberSection{6, 140}).value();
    const CompositeSection flitch =
        composite_of({{wood, {-22, 0}, 11000, 690}, {plate, {0, 0}, 200000, 79300}, {wood, {22, 0}, 11000, 690}});
    CHECK(within(flitch.EIu_Nmm2, 4.65565333e11, 1e-8));
    CHECK(within(200000 * plate.Iu_mm4 / flitch.EIu_Nmm2, 0.589391, 1e-6));
    CHECK(near(flitch.greatest_stress_MPa(0, 0, 3e6, 0), 4.96171, 5.1e-6));
    CHECK(near(flitch.greatest_stress_MPa(1, 0, 3e6, 0), 90.21290, 5.1e-6));
}

TEST_CASE("5.12 composite: 89x140 with a plate 89x6 under it") {
    const CompositeSection beam = composite_of({{properties_of(TimberSection{89, 140}).value(), {0, 76}, 11000, 690},
                                                {properties_of(PlateSection{89, 6}).value(), {0, 3}, 200000, 79300}});
    CHECK(near(beam.centroid_mm.y, 44.029197, 5.1e-7));
    CHECK(within(beam.EIu_Nmm2, 5.44065099e11, 1e-8));
    CHECK(near(beam.greatest_stress_MPa(0, 0, 3e6, 0), 6.184989, 5.1e-7)); // sagging: the top is compressed
    CHECK(near(std::abs(beam.normal_stress_MPa(1, {0, -3}, 0, 3e6, 0)), 48.555804, 5.1e-7));
}

TEST_CASE("a section that does not fit is refused, a mesh has no properties") {
    CHECK_THROWS_AS(static_cast<void>(properties_of(TubeSection{50, 50, 30, 0})), std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(properties_of(TimberSection{0, 50})), std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(properties_of(PipeSection{std::nan(""), 5})), std::invalid_argument);
    CHECK(!properties_of(MeshSection{}).has_value());
}

} // namespace evenclose
