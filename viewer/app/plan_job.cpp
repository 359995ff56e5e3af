#include "viewer/app/plan_job.hpp"

#include "checks/plan/plan_documents.hpp"

#include <fmt/format.h>

#include <string>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

fs::path new_folder(const fs::path& wanted) {
    std::error_code unknown;
    fs::path folder = wanted;
    for (int number = 2; fs::exists(folder, unknown); ++number) {
        folder = wanted.parent_path() / fmt::format("{}-{}", wanted.filename().string(), number);
    }
    return folder;
}

} // namespace

BackgroundJobs::Job plan_job(const StartPlan& order) {
    return {[order](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
                auto plan = std::make_shared<const Plan>(make_plan(*order.request, progress));
                hand_over(PlanIntent{PlanMade{order.number, std::move(plan)}});
            },
            [number = order.number](const std::string& why) {
                return PlanIntent{PlanFailed{number, why}};
            }};
}

Intent written_way(const WritePlan& order) {
    const fs::path folder = new_folder(order.folder);
    const WrittenPlan written = write_plan(*order.plan, order.request->basis, folder);
    if (!written.faults.empty()) {
        return PlanIntent{PlanNotWritten{written.faults.front()}};
    }
    return PlanIntent{
        PlanWritten{(folder / (order.plan->offered[order.way].name + ".set-up.json")).string(), written.setups.size()}};
}

} // namespace evenclose
