// viewer/app/work_keeper.hpp: the window's dealings with the disk: it saves, keeps unsaved work, remembers what was open.
//
// Unsaved work is kept on a thread of its own, since a disk may take its time; everything else is asked for by a person who
// waits for it. Threads: the window's own.
#pragma once

#include "viewer/app/order.hpp"

#include <chrono>
#include <filesystem>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

class WorkKeeper {
public:
    WorkKeeper();
    ~WorkKeeper();
    WorkKeeper(const WorkKeeper&) = delete;
    WorkKeeper& operator=(const WorkKeeper&) = delete;

    [[nodiscard]] SessionRead read_session() const;
    /// What an order that writes is answered with; none for orders that are not answered.
    [[nodiscard]] std::optional<EditIntent> carry_out(const Order& order);
    /// Keeps unsaved work when it is due, remembers the set-up that is open, and says what is to be told.
    [[nodiscard]] std::vector<EditIntent> look_after(const App& app);
    /// The window was closed as it should be: nothing is left behind.
    void end();
    /// The window ends by a fault: what is not saved is kept without waiting until it is due.
    void keep_at_once(const EditedDocuments& documents) noexcept;
    /// Seconds until look_after() has something to do.
    [[nodiscard]] double due_s(const EditedDocuments& documents) const;

private:
    using Clock = std::chrono::steady_clock;

    void keep(const EditedDocuments& documents);

    std::filesystem::path folder_;
    Recovery recovery_;
    DocumentTexts kept_; // what was last handed to be kept
    Clock::time_point kept_at_;
    std::future<std::optional<std::string>> keeping_;
    bool fault_told_ = false;
    std::string remembered_;
    std::vector<std::filesystem::path> open_, elsewhere_; // elsewhere_: of these, last seen in other windows
    Clock::time_point asked_at_;
    std::size_t steps_seen_ = 0;
};

} // namespace evenclose
