// viewer/app/apply.hpp: what an intent does to the state, all in one place.
#pragma once

#include "viewer/app/app.hpp"

#include <variant>
#include <vector>

namespace evenclose {

/// What the window has to see to in the world outside, in order.
struct StartJob {
    Generation generation = 0;
    std::string file;
    DocumentTexts texts = {}; // in place of files
};
struct StopJob {};
struct WriteDocuments {
    EditedDocuments documents;
    bool over_changes = false;
}; // answered by Saved
struct WriteAs {
    EditedDocuments documents;
    std::string file;
}; // answered by SavedAs, or by Saved with faults
struct WriteNewPress {
    MakePress wanted;
}; // answered by PressMade
struct ForgetWork {
    LeftBehind left;
};
using Order = std::variant<StartJob, StopJob, WriteDocuments, WriteAs, WriteNewPress, ForgetWork>;

/// Intents that make no sense now (a finding that is not there, a travel without a press, news for an older set-up) do
/// nothing. Threads: the one that owns `app`.
std::vector<Order> apply(App& app, const Intent& intent);

/// The part of it that edits, saves and recovers: apply_edit.cpp.
std::vector<Order> apply_edit(App& app, const EditIntent& intent);
/// Reads the documents as they stand in memory and checks them, the press staying on screen meanwhile.
std::vector<Order> read_again(App& app);

} // namespace evenclose
