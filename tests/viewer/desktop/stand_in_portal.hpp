// tests/viewer/desktop/stand_in_portal.hpp: a session bus of its own with a portal on it that has a file dialog, as the
// portal's specification has it (org.freedesktop.portal.FileChooser and .Request), and a person who answers as told.
#pragma once

#include <filesystem>
#include <memory>
#include <string>

namespace evenclose::test {

class StandInPortal {
public:
    enum class Person {
        chooses,
        cancels,
        chooses_elsewhere, // a place that is no file on this machine
        says_nothing
    };
    enum class Portal {
        usual,
        old,           // answers from another place than asked for, as before version 0.9
        without_dialog // there, but no part of the desktop behind it has a dialog
    };
    explicit StandInPortal(Person person, std::filesystem::path file = {}, Portal portal = Portal::usual);
    ~StandInPortal();
    StandInPortal(const StandInPortal&) = delete;
    StandInPortal& operator=(const StandInPortal&) = delete;

    [[nodiscard]] std::string address() const;
    struct Asked {
        std::string method, parent, title, options; // options as GVariant text
        int times = 0;
        int closed = 0; // dialogs taken back
    };
    [[nodiscard]] Asked asked() const;
    /// The portal leaves the bus, as when it crashes.
    void leave();

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose::test
