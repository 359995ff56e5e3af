#include "tests/viewer/desktop/stand_in_portal.hpp"

#include "tests/viewer/window/screen.hpp"

#include <fmt/format.h>
#include <gio/gio.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <future>
#include <mutex>
#include <stdexcept>
#include <thread>
#include <utility>

namespace evenclose::test {
namespace {

constexpr const char* kInterfaces = R"(<node>
<interface name="org.freedesktop.portal.FileChooser">
  <method name="OpenFile"><arg type="s" direction="in"/><arg type="s" direction="in"/><arg type="a{sv}" direction="in"/><arg type="o" direction="out"/></method>
  <method name="SaveFile"><arg type="s" direction="in"/><arg type="s" direction="in"/><arg type="a{sv}" direction="in"/><arg type="o" direction="out"/></method>
  <property name="version" type="u" access="read"/>
</interface>
<interface name="org.freedesktop.portal.Request"><method name="Close"/></interface>
</node>)";

constexpr const char* kPath = "/org/freedesktop/portal/desktop";

} // namespace

struct StandInPortal::Inner {
    Person person;
    std::filesystem::path file;
    Portal portal;
    TestFolder folder;
    std::unique_ptr<ChildProcess> bus;
    std::string address;
    GDBusNodeInfo* info = g_dbus_node_info_new_for_xml(kInterfaces, nullptr);
    GMainContext* context = g_main_context_new();
    GMainLoop* loop = g_main_loop_new(context, FALSE);
    GDBusConnection* connection = nullptr;
    guint name = 0;
    std::promise<void> ready;
    std::thread thread;
    mutable std::mutex lock;
    Asked asked;

    static void on_call(GDBusConnection* connection, const char* sender, const char*, const char*, const char* method,
                        GVariant* parameters, GDBusMethodInvocation* call, gpointer itself) {
        static_cast<Inner*>(itself)->answer(connection, sender, method, parameters, call);
    }
    static void on_close(GDBusConnection*, const char*, const char*, const char*, const char*, GVariant*,
                         GDBusMethodInvocation* call, gpointer itself) {
        auto& inner = *static_cast<Inner*>(itself);
        {
            const std::scoped_lock hold(inner.lock);
            ++inner.asked.closed;
        }
        g_dbus_method_invocation_return_value(call, nullptr);
    }
    static GVariant* on_property(GDBusConnection*, const char*, const char*, const char*, const char*, GError**,
                                 gpointer) {
        return g_variant_new_uint32(3);
    }
    static constexpr GDBusInterfaceVTable kChooser{on_call, on_property, nullptr, {}};
    static constexpr GDBusInterfaceVTable kRequest{on_close, nullptr, nullptr, {}};

    void answer(GDBusConnection* on, const char* sender, const char* method, GVariant* parameters,
                GDBusMethodInvocation* call) {
        const char* parent = nullptr;
        const char* title = nullptr;
        GVariant* options = nullptr;
        g_variant_get(parameters, "(&s&s@a{sv})", &parent, &title, &options);
        const char* token = "";
        g_variant_lookup(options, "handle_token", "&s", &token);
        char* printed = g_variant_print(options, FALSE);
        {
            const std::scoped_lock hold(lock);
            asked = {method, parent, title, printed, asked.times + 1, asked.closed};
        }
        g_free(printed);
        std::string who = sender + 1;
        std::replace(who.begin(), who.end(), '.', '_');
        const std::string handle = portal == Portal::old ? fmt::format("{}/request/17", kPath)
                                                         : fmt::format("{}/request/{}/{}", kPath, who, token);
        g_variant_unref(options);
        g_dbus_connection_register_object(on, handle.c_str(),
                                          g_dbus_node_info_lookup_interface(info, "org.freedesktop.portal.Request"),
                                          &kRequest, this, nullptr, nullptr);
        g_dbus_method_invocation_return_value(call, g_variant_new("(o)", handle.c_str()));
        if (person == Person::says_nothing) {
            return;
        }
        if (portal == Portal::old) { // the asker has yet to hear where the answer comes from
            g_usleep(200000);
        }
        GVariantBuilder results;
        g_variant_builder_init(&results, G_VARIANT_TYPE_VARDICT);
        if (person != Person::cancels) {
            char* uri = person == Person::chooses ? g_filename_to_uri(file.c_str(), nullptr, nullptr)
                                                  : g_strdup("https://example.org/oak.set-up.json");
            const char* const uris[] = {uri, nullptr}; // as GLib takes lists
            g_variant_builder_add(&results, "{sv}", "uris", g_variant_new_strv(uris, -1));
            g_free(uri);
        }
        g_dbus_connection_emit_signal(on, nullptr, handle.c_str(), "org.freedesktop.portal.Request", "Response",
                                      g_variant_new("(ua{sv})", person == Person::cancels ? 1U : 0U, &results),
                                      nullptr);
    }

    void serve() {
        g_main_context_push_thread_default(context);
        connection = g_dbus_connection_new_for_address_sync(
            address.c_str(),
            static_cast<GDBusConnectionFlags>(G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT |
                                              G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION),
            nullptr, nullptr, nullptr);
        if (connection == nullptr) {
            ready.set_exception(std::make_exception_ptr(std::runtime_error("no bus to stand on")));
            return;
        }
        if (portal != Portal::without_dialog) {
            g_dbus_connection_register_object(
                connection, kPath, g_dbus_node_info_lookup_interface(info, "org.freedesktop.portal.FileChooser"),
                &kChooser, this, nullptr, nullptr);
        }
        name = g_bus_own_name_on_connection(
            connection, "org.freedesktop.portal.Desktop", G_BUS_NAME_OWNER_FLAGS_NONE,
            [](GDBusConnection*, const char*, gpointer itself) { static_cast<Inner*>(itself)->ready.set_value(); },
            nullptr, this, nullptr);
        g_main_loop_run(loop);
        g_main_context_pop_thread_default(context);
    }
};

StandInPortal::StandInPortal(Person person, std::filesystem::path file, Portal portal)
    : inner_(std::make_unique<Inner>()) {
    inner_->person = person;
    inner_->file = std::move(file);
    inner_->portal = portal;
    const std::string told = (inner_->folder.path() / "address").string();
    inner_->bus = std::make_unique<ChildProcess>(
        ChildProcess::Start{{"dbus-daemon", "--session", "--nofork", "--nopidfile", "--print-address=1",
                             "--address=unix:path=" + (inner_->folder.path() / "bus").string()},
                            {},
                            told});
    for (int i = 0; i < 1000 && inner_->address.empty() && inner_->bus->running(); ++i) {
        std::ifstream in(told);
        for (std::string line; std::getline(in, line);) {
            if (line.starts_with("unix:") && !in.eof()) { // beside it complaints may stand
                inner_->address = line;
            }
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    if (inner_->address.empty()) {
        throw std::runtime_error("dbus-daemon does not start; sh third_party/install.sh tests installs it");
    }
    inner_->thread = std::thread([inner = inner_.get()] { inner->serve(); });
    inner_->ready.get_future().get();
}

StandInPortal::~StandInPortal() {
    g_main_loop_quit(inner_->loop);
    inner_->thread.join();
    g_bus_unown_name(inner_->name);
    g_dbus_connection_close_sync(inner_->connection, nullptr, nullptr);
    g_object_unref(inner_->connection);
    g_main_loop_unref(inner_->loop);
    g_main_context_unref(inner_->context);
    g_dbus_node_info_unref(inner_->info);
}

std::string StandInPortal::address() const { return inner_->address; }

StandInPortal::Asked StandInPortal::asked() const {
    const std::scoped_lock hold(inner_->lock);
    return inner_->asked;
}

void StandInPortal::leave() { g_dbus_connection_close_sync(inner_->connection, nullptr, nullptr); }

} // namespace evenclose::test
