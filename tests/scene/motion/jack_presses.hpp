// tests/scene/motion/jack_presses.hpp: presses that are little but their jacks.
#pragma once

#include "scene/motion/assembly.hpp"
#include "scene/press/press.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace evenclose::test {

/// Foot at 50, closed 200: the head at 250; lead 4.
inline Jack screw_at(Vec2 at, double rate = 1.0, double rate_tolerance = 0.0) {
    Jack jack;
    jack.foot_mm = {at, 50};
    jack.closed_height_mm = 200;
    jack.stroke_mm = 150;
    jack.rated_load_N = 20000;
    jack.rate = rate;
    jack.rate_tolerance = rate_tolerance;
    jack.kind = ScrewJack{{.lead_mm = 4}, 70, 30, 50, 12};
    return jack;
}

/// Arms of 200, lead 2, between a base and a head of these heights.
inline ScissorJack scissor_of(double base_height_mm, double head_height_mm, ThreadForm form) {
    ScissorJack scissor;
    scissor.arm_mm = 200;
    scissor.base_height_mm = base_height_mm;
    scissor.head_height_mm = head_height_mm;
    scissor.thread = {2, 1, form, 0.15, 0, 0};
    scissor.screw_diameter_mm = 16;
    scissor.link_width_mm = 24;
    scissor.link_depth_mm = 40;
    scissor.foot_size_mm = {120, 80};
    scissor.head_size_mm = {80, 60};
    return scissor;
}

/// REFERENCE 2: arms of 200, lead 2, both ends threaded, parked at this span. Closed at span 390.
inline Jack rhombus_at(Vec2 at, double parked_span_mm, double rate = 1.0, double rate_tolerance = 0.0) {
    const double closed = std::sqrt(400.0 * 400 - 390.0 * 390);
    Jack jack;
    jack.foot_mm = {at, 50};
    jack.closed_height_mm = closed + 50;
    jack.parked_mm = std::sqrt(400.0 * 400 - parked_span_mm * parked_span_mm) - closed;
    jack.stroke_mm = 260;
    jack.rated_load_N = 10000;
    jack.rate = rate;
    jack.rate_tolerance = rate_tolerance;
    jack.kind = scissor_of(30, 20, ThreadForm::trapezoidal);
    return jack;
}

inline Jack cylinder_at(Vec2 at) {
    Jack jack;
    jack.foot_mm = {at, 50};
    jack.closed_height_mm = 200;
    jack.stroke_mm = 150;
    jack.rated_load_N = 80000;
    jack.kind = CylinderJack{{80, 45}, 100, 60, 15};
    return jack;
}

inline Jack hose_at(Vec2 at) {
    Jack jack;
    jack.foot_mm = {at, 50};
    jack.closed_height_mm = 15;
    jack.stroke_mm = 70;
    jack.rated_load_N = 30000;
    jack.kind = HoseJack{{100, 300}, 0};
    return jack;
}

inline Press press_on(std::vector<Jack> jacks) {
    Press press;
    press.platen.size_mm = {900, 300};
    press.platen.thickness_mm = 30;
    press.jacks = std::move(jacks);
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        press.jacks[i].name = "jack " + std::to_string(i + 1);
    }
    return press;
}

/// Under a head of 900 x 300.
inline Assembly assembly_on(std::vector<Jack> jacks, std::vector<ShaftLink> shafts = {}) {
    Setup setup;
    auto press = std::make_shared<Press>(press_on(std::move(jacks)));
    press->head.size_mm = {900, 300};
    press->head.thickness_mm = 40;
    press->head_underside_z_mm = 700;
    press->link_shafts = std::move(shafts);
    setup.press = std::move(press);
    return assemble(setup);
}

inline const Body& body(const Assembly& assembly, const std::string& name) {
    for (const Body& each : assembly.bodies) {
        if (each.name == name) {
            return each;
        }
    }
    FAIL("no body called " << name);
    throw std::logic_error(name);
}

} // namespace evenclose::test
