#include "viewer/app/load_and_check.hpp"

#include "checks/opening_view.hpp"
#include "scene/documents/documents.hpp"
#include "viewer/app/mold_snap.hpp"
#include "viewer/app/one_core_less.hpp"
#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/ray_mesh.hpp"

#include <algorithm>
#include <functional>
#include <iterator>

namespace evenclose {
namespace {

void prepare(const Assembly& assembly, const Progress& progress, const std::function<void(const SharedMesh&)>& make) {
    for (const Body& body : assembly.bodies) {
        if (body.mesh && !progress.cancelled()) {
            make(body.mesh);
        }
    }
}

} // namespace

void load_and_check(const std::string& file, const DocumentTexts& texts, Generation generation, Progress& progress,
                    const BackgroundJobs::HandOver& hand_over) {
    // All files as they are at one moment, and as they will be edited.
    auto [gathered, files] = stamped_texts(file, texts);
    Loaded<Setup> loaded = read_setup(file, gathered);
    if (!loaded.value) {
        std::vector<std::string> faults;
        std::transform(loaded.faults.begin(), loaded.faults.end(), std::back_inserter(faults),
                       [](const DocumentFault& fault) { return fault.sentence(); });
        for (DocumentFault& fault : loaded.faults) {
            fault.file = document_id(fault.file).string();
        }
        hand_over(SetupFaulty{generation, std::move(faults), std::move(loaded.faults), std::move(gathered),
                              std::move(files)});
        return;
    }
    if (progress.cancelled()) {
        return;
    }
    const auto setup = std::make_shared<const Setup>(std::move(*loaded.value));
    const auto assembly = std::make_shared<const Assembly>(assemble(*setup));
    std::vector<LevelCurve> level;
    if (!setup->openings.empty()) {
        level = level_curves(stack_as_one(*setup, *assembly, 0), *assembly);
    }
    // The first picture should not have to wait for normals and edges, nor the first press of the mouse for its rays.
    prepare(*assembly, progress, [](const SharedMesh& mesh) { (void)drawable_of(mesh); });
    hand_over(SetupRead{generation, setup, assembly, std::move(loaded.notes), std::move(level), std::move(gathered),
                        std::move(files)});
    prepare(*assembly, progress, [](const SharedMesh& mesh) { (void)ray_mesh_of(mesh); });
    for (std::size_t i = 0; i < setup->openings.size() && !progress.cancelled(); ++i) {
        (void)snap_targets(*setup, i); // pins and holes are found once; the hand that takes the mold should not wait
    }
    // One core is left to the window, so that it stays quick under the hand; the answer is the same.
    CheckRequest request;
    request.jobs = one_core_less();
    const auto results = std::make_shared<const CheckResults>(run_checks(*setup, *assembly, request, progress));
    hand_over(Checked{generation, results});
}

BackgroundJobs::Job check_job(const StartJob& order) {
    return {[order](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
                load_and_check(order.file, order.texts, order.generation, progress, hand_over);
            },
            [generation = order.generation](const std::string& why) {
                return JobFailed{generation, why};
            }};
}

} // namespace evenclose
