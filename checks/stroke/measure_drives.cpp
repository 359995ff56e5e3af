#include "checks/stroke/drives.hpp"

#include "checks/weights.hpp"
#include "scene/materials/material.hpp"

#include <algorithm>

namespace evenclose {
namespace {

constexpr int kPlaces = 40;
constexpr double kGravity = 9.80665; // standard, REFERENCE 10
constexpr double kMm3PerCm3 = 1000;

bool is_pumped(const Jack& jack) { return drive_of(law_of(jack)) == DriveKind::volume; }

/// Jacks that turn together by shafts and motors, each jack in one train.
std::vector<std::vector<std::size_t>> trains_of(const Press& press) {
    std::vector<std::size_t> train(press.jacks.size());
    for (std::size_t i = 0; i < train.size(); ++i) {
        train[i] = i;
    }
    const auto join = [&](std::size_t a, std::size_t b) {
        const std::size_t from = std::max(train[a], train[b]);
        const std::size_t to = std::min(train[a], train[b]);
        std::replace(train.begin(), train.end(), from, to);
    };
    for (const ShaftLink& link : press.link_shafts) {
        join(link.from, link.to);
    }
    for (const Drive& drive : press.drives) {
        for (const std::size_t jack : drive.jacks) {
            join(drive.jacks.front(), jack);
        }
    }
    std::vector<std::vector<std::size_t>> trains(press.jacks.size());
    for (std::size_t i = 0; i < train.size(); ++i) {
        trains[train[i]].push_back(i);
    }
    trains.erase(std::remove_if(trains.begin(), trains.end(), [](const auto& jacks) { return jacks.empty(); }),
                 trains.end());
    return trains;
}

/// As the document states it; else by size and material, if both are known.
std::optional<double> mass_of(const Press& press) {
    const Platen& platen = press.platen;
    if (platen.mass_kg) {
        return platen.mass_kg;
    }
    const Material* material = find_material(press.materials, platen.material);
    if (material == nullptr || platen.mesh != nullptr) {
        return std::nullopt;
    }
    constexpr double kMm3PerM3 = 1e9;
    return material->density_kg_per_m3 * platen.size_mm.x * platen.size_mm.y * platen.thickness_mm / kMm3PerM3;
}

/// `over_N`: of several openings what the platen picks up on its way.
std::optional<double> dead_weight_a_jack_N(const Press& press, double over_N) {
    std::optional<double> kg = mass_of(press);
    if (!kg) {
        return std::nullopt;
    }
    for (const Jack& jack : press.jacks) {
        *kg += jack.moving_mass_kg.value_or(0);
    }
    return (*kg * kGravity + over_N) / static_cast<double>(press.jacks.size());
}

DriveRun run_of(const Press& press, const Drive& drive, const std::vector<std::size_t>& train, const Lifting& lifting,
                Travel last, double over_N) {
    DriveRun run;
    run.name = drive.name;
    run.pumped = is_pumped(press.jacks[drive.jacks.front()]);
    run.limit = drive.limit;
    const std::vector<std::size_t>& driven = run.pumped ? drive.jacks : train;
    for (const std::size_t jack : driven) {
        run.jacks.push_back(press.jacks[jack].name);
        run.hose = run.hose || std::holds_alternative<HoseJack>(press.jacks[jack].kind);
    }
    const std::size_t first = drive.jacks.front();
    run.rated_load_N = press.jacks[first].rated_load_N;
    const auto sharing =
        static_cast<double>(std::count_if(press.drives.begin(), press.drives.end(), [&](const Drive& other) {
            return std::find(train.begin(), train.end(), other.jacks.front()) != train.end();
        }));
    const std::optional<double> weight = dead_weight_a_jack_N(press, over_N);

    for (int i = 0; i <= kPlaces; ++i) {
        DrivePoint point;
        point.at = {last.mm * i / kPlaces};
        point.out_mm = lifting.out_mm(first, point.at);
        const HeightLaw law = law_of(press.jacks[first]);
        point.rate = rate(law, point.out_mm) * (run.pumped ? kMm3PerCm3 : 1.0);
        double at_rated = 0;
        double at_weight = 0;
        for (const std::size_t jack : driven) {
            const HeightLaw own = law_of(press.jacks[jack]);
            const double out = lifting.out_mm(jack, point.at);
            const double rated = effort(own, out, press.jacks[jack].rated_load_N);
            const double dead = effort(own, out, weight.value_or(0));
            at_rated = run.pumped ? std::max(at_rated, rated) : at_rated + rated; // a pressure is one for all
            at_weight = run.pumped ? std::max(at_weight, dead) : at_weight + dead;
        }
        const double reduced = run.pumped ? 1.0 : sharing * drive.gear_ratio;
        point.at_rated = at_rated / reduced;
        if (weight) {
            point.at_weight = at_weight / reduced;
        }
        if (drive.limit) {
            point.can_lift_N = run.rated_load_N * *drive.limit / point.at_rated;
        }
        run.points.push_back(point);
    }
    return run;
}

JackRun run_of(const Jack& jack, std::size_t index, const Lifting& lifting, Travel last) {
    JackRun run;
    const HeightLaw law = law_of(jack);
    run.jack = jack.name;
    run.kind = name_of(jack.kind);
    run.pumped = is_pumped(jack);
    run.rated_load_N = jack.rated_load_N;
    run.holding = holding_of(law);
    for (int i = 0; i <= kPlaces; ++i) {
        JackPoint point;
        point.at = {last.mm * i / kPlaces};
        point.out_mm = lifting.out_mm(index, point.at);
        point.rate = rate(law, point.out_mm) * (run.pumped ? kMm3PerCm3 : 1.0);
        point.effort = effort(law, point.out_mm, jack.rated_load_N);
        run.points.push_back(point);
    }
    return run;
}

} // namespace

DrivesMeasure measure_drives(const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    const Lifting lifting(press, assembly.level_source);
    DrivesMeasure measure;
    measure.without_drives = press.drives.empty();
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        const Jack& jack = press.jacks[i];
        if (!knows_effort(jack)) {
            measure.silent.push_back(jack.name);
            continue;
        }
        measure.holding.push_back({jack.name, holding_of(law_of(jack)), is_pumped(jack)});
        measure.jacks.push_back(run_of(jack, i, lifting, assembly.last));
    }
    const std::vector<std::vector<std::size_t>> trains = trains_of(press);
    const double over_N = assembly.openings.size() > 1 ? moving_weights(setup, assembly).above_N : 0.0;
    for (const Drive& drive : press.drives) {
        const auto train = std::find_if(trains.begin(), trains.end(), [&](const std::vector<std::size_t>& jacks) {
            return std::find(jacks.begin(), jacks.end(), drive.jacks.front()) != jacks.end();
        });
        if (std::all_of(train->begin(), train->end(),
                        [&](std::size_t jack) { return knows_effort(press.jacks[jack]); })) {
            measure.drives.push_back(run_of(press, drive, *train, lifting, assembly.last, over_N));
        }
    }
    measure.seconds_to_close = lifting.seconds(assembly.last);
    return measure;
}

} // namespace evenclose
