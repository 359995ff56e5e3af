// viewer/app/apply.hpp: what an intent does to the state, all in one place.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/app/order.hpp"

#include <filesystem>
#include <vector>

namespace evenclose {

/// What is to be done outside, in order. Intents that make no sense now (a finding that is not there, a travel without a press,
/// news for an older set-up) do nothing. Threads: the one that owns `app`.
std::vector<Order> apply(App& app, const Intent& intent);

/// The part of it that edits, saves and recovers: apply_edit.cpp.
std::vector<Order> apply_edit(App& app, const EditIntent& intent);
/// What happens to the plan: apply_plan.cpp.
std::vector<Order> apply_plan(App& app, const PlanIntent& intent);
/// A plan that is there or being made belongs to a set-up that is no longer this one.
std::vector<Order> forget_plan(App& app);
/// What happens to the folder of molds: apply_molds.cpp.
std::vector<Order> apply_molds(App& app, const MoldsIntent& intent);
/// Its sheet was opened.
std::vector<Order> open_molds(App& app);
/// The folder that it shows: the one that was chosen, else that of the mold in the chosen opening.
[[nodiscard]] std::filesystem::path molds_folder(const App& app);
/// A set-up was read: what the press before said of molds does not hold for another one.
std::vector<Order> molds_of_press_read(App& app);
/// Work for a sheet that was on screen before and is no longer.
std::vector<Order> sheet_left(App& app, Sheet before);
/// The part of it that looks closely: apply_closely.cpp.
std::vector<Order> apply_closely(App& app, const CloselyIntent& intent);
/// Which file is meant: apply_file_question.cpp.
std::vector<Order> apply_file_question(App& app, const FileQuestionIntent& intent);
/// After the press was read anew: what is no longer there is forgotten.   Needs: an assembly.
void look_again(App& app);
/// Reads the documents as they stand in memory and checks them, the press staying on screen meanwhile.
std::vector<Order> read_again(App& app);
/// The same with what is on the disk, but for what is edited and not saved.
std::vector<Order> read_from_disk(App& app);

} // namespace evenclose
