#include "checks/plan/plan.hpp"
#include "checks/plan/plan_basis.hpp"
#include "checks/plan/plan_documents.hpp"
#include "checks/report/plan_report.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/cli/mold_files.hpp"
#include "viewer/cli/progress_line.hpp"

#include <fmt/format.h>

#include <memory>
#include <ostream>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

bool read_molds(const std::vector<std::filesystem::path>& files, PlanBasis& basis, std::ostream& err) {
    bool usable = true;
    for (const std::filesystem::path& file : files) {
        Loaded<Mold> loaded = read_mold(file);
        for (const DocumentFault& fault : loaded.faults) {
            err << fault.sentence() << "\n";
        }
        usable = usable && loaded.value.has_value();
        if (loaded.value) {
            basis.molds.push_back({file.string(), std::make_shared<const Mold>(std::move(*loaded.value))});
        }
    }
    return usable;
}

} // namespace

int run_plan(const PlanCommand& command, std::ostream& out, std::ostream& err) {
    std::optional<Setup> like = empty_setup(command.press, command.like, err);
    const auto files = mold_files(command.molds, err);
    if (!like || !files) {
        return kExitUnusable;
    }
    if (files->size() > kMostOpenings) {
        err << fmt::format("evenclose: {} molds are more than the {} openings there can be; name those that matter\n",
                           files->size(), kMostOpenings);
        return kExitUsage;
    }
    std::optional<double> thickness;
    if (!command.platen.empty()) {
        const Read<double> read = read_length_mm(command.platen);
        const auto* mm = std::get_if<double>(&read);
        if (mm == nullptr || *mm <= 0) {
            err << fmt::format("evenclose: --platen {}: give a thickness, such as 25 or \"1 in\"\n", command.platen);
            return kExitUsage;
        }
        thickness = *mm;
    }
    PlanRequest request;
    request.jobs = command.jobs;
    request.target = {command.decks > 0 ? std::optional(command.decks) : std::nullopt,
                      command.decks_a_week > 0 ? std::optional(command.decks_a_week) : std::nullopt};
    request.basis.platen = platen_like(*like, thickness);
    request.basis.like = std::move(*like);
    if (!read_molds(*files, request.basis, err)) {
        return kExitUnusable;
    }
    Progress progress;
    Plan plan;
    try {
        const ProgressLine line(progress, "planning", err);
        plan = make_plan(request, progress);
    } catch (const std::invalid_argument& fault) {
        err << "evenclose: " << fault.what() << "\n";
        return kExitUnusable;
    }
    std::optional<WrittenPlan> written;
    if (!command.output.empty()) {
        written = write_plan(plan, request.basis, command.output);
        for (const std::string& fault : written->faults) {
            err << "evenclose: " << fault << "\n";
        }
        if (!written->faults.empty()) {
            return kExitUnusable;
        }
    }
    const WrittenPlan* files_written = written ? &*written : nullptr;
    out << (command.json  ? plan_json(plan, request, files_written)
            : command.csv ? plan_csv(plan, files_written)
                          : plan_text(plan, request, files_written, {command.units, 110}));
    const bool asked = request.target.decks || request.target.decks_a_week;
    return asked ? (plan.least ? kExitGo : kExitNoGo) : (plan.fit.most > 0 ? kExitGo : kExitNoGo);
}

} // namespace evenclose
