// The desktop's dialog as the portal's specification has it
// (https://flatpak.github.io/xdg-desktop-portal/docs/doc-org.freedesktop.portal.FileChooser.html, .Request.html), asked of a
// portal that stands in for one.
#include "viewer/desktop/file_dialog.hpp"

#include "tests/places.hpp"
#include "tests/viewer/desktop/stand_in_portal.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;
using What = FileDialogAnswer::What;
using Person = StandInPortal::Person;
using Portal = StandInPortal::Portal;

namespace {

/// The address in the environment, as it was before afterwards.
class OnBus {
public:
    explicit OnBus(const std::string& address) {
        if (const char* before = std::getenv(kName)) {
            before_ = before;
            had_ = true;
        }
        setenv(kName, address.c_str(), 1);
    }
    ~OnBus() {
        if (had_) {
            setenv(kName, before_.c_str(), 1);
        } else {
            unsetenv(kName);
        }
    }
    OnBus(const OnBus&) = delete;
    OnBus& operator=(const OnBus&) = delete;

private:
    static constexpr const char* kName = "DBUS_SESSION_BUS_ADDRESS";
    std::string before_;
    bool had_ = false;
};

bool never() { return false; }

FileDialogAsked to_open() {
    return {false,
            "Open a set-up",
            "/tmp/shop of \xc3\xb6 and \xff",
            {},
            {{"Set-ups", {"*.set-up.json"}}, {"All files", {"*"}}},
            "x11:1a00007"};
}

} // namespace

TEST_CASE("file dialog: the file that a person chooses, whatever is in its name") {
    const std::filesystem::path file = "/tmp/shop 1%/K\xc3\xbc"
                                       "che #2.set-up.json";
    StandInPortal portal(Person::chooses, file);
    const OnBus on(portal.address());
    CHECK(file_dialog_thinkable());
    const FileDialogAnswer answer = ask_file_dialog(to_open(), never);
    CHECK(answer.what == What::chosen);
    CHECK(answer.file == file);
    const StandInPortal::Asked asked = portal.asked();
    CHECK(asked.times == 1);
    CHECK(asked.method == "OpenFile");
    CHECK(asked.parent == "x11:1a00007");
    CHECK(asked.title == "Open a set-up");
    CHECK(asked.options.find("'filters': <[('Set-ups', [(uint32 0, '*.set-up.json')]), ('All files', [(0, '*')])]>") !=
          std::string::npos);
    CHECK(asked.options.find("'current_filter': <('Set-ups', [(uint32 0, '*.set-up.json')])>") != std::string::npos);
    CHECK(asked.options.find("'modal': <true>") != std::string::npos);
    CHECK(asked.options.find("'current_folder': <b") != std::string::npos); // bytes, as names on a disk are
    CHECK(asked.options.find("current_name") == std::string::npos);
}

TEST_CASE("file dialog: a name to save under is proposed, one that is there already is pointed at") {
    const std::filesystem::path here = std::filesystem::path(source_folder());
    StandInPortal portal(Person::chooses, here / "other.html");
    const OnBus on(portal.address());
    FileDialogAsked asked{true, "Make the report", here, "README.md"};
    CHECK(ask_file_dialog(asked, never).file == here / "other.html");
    CHECK(portal.asked().method == "SaveFile");
    CHECK(portal.asked().options.find("'current_name': <'README.md'>") != std::string::npos);
    CHECK(portal.asked().options.find("'current_file': <b'" + (here / "README.md").string()) != std::string::npos);
    asked.name = "no such file.html";
    CHECK(ask_file_dialog(asked, never).what == What::chosen);
    CHECK(portal.asked().options.find("current_file") == std::string::npos);
    asked.name = "not \xff text";
    CHECK(ask_file_dialog(asked, never).what == What::chosen);
    CHECK(portal.asked().options.find("'current_name': <''>") != std::string::npos);
}

TEST_CASE("file dialog: cancelled, and a place that is no file here") {
    {
        StandInPortal portal(Person::cancels);
        const OnBus on(portal.address());
        CHECK(ask_file_dialog(to_open(), never).what == What::cancelled);
    }
    StandInPortal portal(Person::chooses_elsewhere);
    const OnBus on(portal.address());
    CHECK(ask_file_dialog(to_open(), never).what == What::unusable);
}

TEST_CASE("file dialog: an older portal answers from a place of its own choice") {
    StandInPortal portal(Person::chooses, "/tmp/oak.set-up.json", Portal::old);
    const OnBus on(portal.address());
    CHECK(ask_file_dialog(to_open(), never).file == "/tmp/oak.set-up.json");
}

TEST_CASE("file dialog: a question that is taken back takes the dialog away") {
    StandInPortal portal(Person::says_nothing);
    const OnBus on(portal.address());
    int looked = 0;
    CHECK(ask_file_dialog(to_open(), [&] { return ++looked > 2; }).what == What::cancelled);
    for (int i = 0; i < 100 && portal.asked().closed == 0; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    CHECK(portal.asked().closed == 1);
}

TEST_CASE("file dialog: none where there is no bus, no portal, none with a dialog, or it goes while it asks") {
    {
        const OnBus on("disabled:");
        CHECK_FALSE(file_dialog_thinkable());
        CHECK(ask_file_dialog(to_open(), never).what == What::not_offered);
    }
    {
        const OnBus on("unix:path=/tmp/there is no such bus");
        CHECK(ask_file_dialog(to_open(), never).what == What::not_offered);
    }
    {
        StandInPortal portal(Person::chooses, {}, Portal::without_dialog);
        const OnBus on(portal.address());
        CHECK(ask_file_dialog(to_open(), never).what == What::not_offered);
        CHECK(portal.asked().times == 0);
    }
    {
        StandInPortal portal(Person::says_nothing);
        const OnBus on(portal.address());
        int looked = 0;
        CHECK(ask_file_dialog(to_open(), [&] {
                  if (++looked == 2) {
                      portal.leave();
                  }
                  return looked > 100; // ten seconds
              }).what == What::not_offered);
        CHECK(looked < 100);
    }
    StandInPortal portal(Person::chooses);
    portal.leave(); // a bus on which there is nobody
    const OnBus on(portal.address());
    CHECK(ask_file_dialog(to_open(), never).what == What::not_offered);
}
