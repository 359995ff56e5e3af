#include "scene/jacks/cylinder.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using evenclose::test::near;

TEST_CASE("2.7 cylinder bores: area, and push at 16 MPa [F = p A, ISO 6020-2 bores by makers' tables]") {
    struct Row {
        double bore, area, kN;
    };
    const Row rows[] = {{25, 490.874, 7.854},     {32, 804.248, 12.868},     {40, 1256.637, 20.106},
                        {50, 1963.495, 31.416},   {63, 3117.245, 49.876},    {80, 5026.548, 80.425},
                        {100, 7853.982, 125.664}, {125, 12271.846, 196.350}, {160, 20106.193, 321.699},
                        {200, 31415.927, 502.655}};
    for (const Row& row : rows) {
        CAPTURE(row.bore);
        const Cylinder cylinder{row.bore, 0.5 * row.bore};
        CHECK(near(bore_area_mm2(cylinder), row.area, 5e-4));
        CHECK(near(push_N(cylinder, 16) / 1000, row.kN, 5e-4));
        CHECK(near(pressure_for_push_MPa(cylinder, push_N(cylinder, 16)), 16, 1e-12));
        CHECK(near(pull_N(cylinder, 16) / push_N(cylinder, 16), 0.75, 1e-12)); // a rod of half the bore
    }
}

TEST_CASE("2.8 rod side blocked: bore 80 rod 45 raises the pressure there by 1.462857 [derived: areas' ratio]") {
    CHECK(near(intensification({80, 45}), 1.462857, 5e-7));
}
