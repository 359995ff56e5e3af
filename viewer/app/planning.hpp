// viewer/app/planning.hpp: the plan for the next press in the window: made in the background for the set-up that is open,
// shown as ways to choose from, and one of them opened as a set-up. What happens to it is an intent like all else.
#pragma once

#include "checks/plan/plan.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <variant>

namespace evenclose {

/// What the ways are held against decks by.
enum class PlanAgainst { frame_height, cost, people, molds, stroke };

struct Planning {
    enum class Stage { none, running, made, stopped, failed } stage = Stage::none;
    std::uint64_t number = 0; // of the plan that is waited for; what an older one brings is not taken
    std::shared_ptr<const PlanRequest> request;
    std::shared_ptr<const Plan> plan;
    std::string fault;
    std::optional<std::size_t> chosen; // into plan->offered
    PlanAgainst against = PlanAgainst::frame_height;
};

// What a person wants.
struct MakePlan {}; // for the set-up that is open
struct StopPlan {};
struct ChooseWay {
    std::size_t index = 0; // into Plan::offered
};
struct SetPlanAgainst {
    PlanAgainst what = PlanAgainst::frame_height;
};
struct OpenWay {}; // writes all ways as documents and opens the chosen one

// What the background job found, and what was written.
struct PlanMade {
    std::uint64_t number = 0;
    std::shared_ptr<const Plan> plan;
};
struct PlanFailed {
    std::uint64_t number = 0;
    std::string why;
};
struct PlanWritten {
    std::string file; // the chosen way's set-up, that is opened now
    std::size_t setups = 0;
};
struct PlanNotWritten {
    std::string why;
};

/// See Intent for why it is a class.
struct PlanIntent : std::variant<MakePlan, StopPlan, ChooseWay, SetPlanAgainst, OpenWay, PlanMade, PlanFailed,
                                 PlanWritten, PlanNotWritten> {
    using variant::variant;
    PlanIntent();
    PlanIntent(const PlanIntent&);
    PlanIntent(PlanIntent&&) noexcept;
    PlanIntent& operator=(const PlanIntent&);
    PlanIntent& operator=(PlanIntent&&) noexcept;
    ~PlanIntent();
};

/// Where a plan's documents go: a folder of that name beside the set-up.
[[nodiscard]] std::filesystem::path plans_folder(const std::string& setup_file);

} // namespace evenclose
