#include "checks/plan/plan_basis.hpp"
#include "viewer/app/apply.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <thread>
#include <utility>

namespace evenclose {
namespace {

using Orders = std::vector<Order>;

struct PlanApplied {
    App& app;

    Orders operator()(const MakePlan&) const {
        if (!app.setup || app.setup->openings.empty() || app.shows_last_good()) {
            return {};
        }
        Orders orders = forget_plan(app);
        PlanRequest request;
        request.basis = basis_of(*app.setup);
        request.jobs = std::max(static_cast<int>(std::thread::hardware_concurrency()) - 1, 1); // one is the window's
        app.planning.request = std::make_shared<const PlanRequest>(std::move(request));
        app.planning.stage = Planning::Stage::running;
        orders.emplace_back(StartPlan{app.planning.number, app.planning.request});
        return orders;
    }
    Orders operator()(const StopPlan&) const {
        Orders orders = forget_plan(app);
        app.planning.stage = Planning::Stage::stopped;
        return orders;
    }
    Orders operator()(const ChooseWay& intent) const {
        if (app.planning.plan && intent.index < app.planning.plan->offered.size()) {
            app.planning.chosen = intent.index;
        }
        return {};
    }
    Orders operator()(const SetPlanAgainst& intent) const {
        app.planning.against = intent.what;
        return {};
    }
    Orders operator()(const OpenWay&) const {
        const Planning& planning = app.planning;
        // What is written names the press and molds as they stand on the disk.
        if (!planning.plan || !planning.chosen || app.documents.unsaved()) {
            return {};
        }
        return {WritePlan{planning.request, planning.plan, *planning.chosen, plans_folder(app.file)}};
    }
    Orders operator()(const PlanMade& news) const {
        if (news.number == app.planning.number && app.planning.stage == Planning::Stage::running) {
            app.planning.stage = Planning::Stage::made;
            app.planning.plan = news.plan;
            if (!news.plan->offered.empty()) {
                app.planning.chosen = news.plan->offered.size() - 1;
            }
        }
        return {};
    }
    Orders operator()(const PlanFailed& news) const {
        if (news.number == app.planning.number && app.planning.stage == Planning::Stage::running) {
            app.planning.stage = Planning::Stage::failed;
            app.planning.fault = news.why;
        }
        return {};
    }
    Orders operator()(const PlanWritten& news) const {
        app.notice = fmt::format("{} set-ups stand in {}; this is one of them", news.setups,
                                 std::filesystem::path(news.file).parent_path().string());
        app.notice_bad = false;
        return apply(app, OpenSetup{news.file});
    }
    Orders operator()(const PlanNotWritten& news) const {
        app.notice = news.why;
        app.notice_bad = true;
        return {};
    }
};

} // namespace

std::filesystem::path plans_folder(const std::string& setup_file) {
    return std::filesystem::path(setup_file).parent_path() / "plans";
}

std::vector<Order> forget_plan(App& app) {
    const bool runs = app.planning.stage == Planning::Stage::running;
    Planning fresh;
    fresh.number = app.planning.number + 1;
    fresh.against = app.planning.against;
    app.planning = std::move(fresh);
    return runs ? Orders{EndPlan{}} : Orders{};
}

std::vector<Order> apply_plan(App& app, const PlanIntent& intent) { return std::visit(PlanApplied{app}, intent); }

} // namespace evenclose
