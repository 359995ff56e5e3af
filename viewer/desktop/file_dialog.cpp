#include "viewer/desktop/file_dialog.hpp"

#include <fmt/format.h>
#include <gio/gio.h>

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string_view>
#include <system_error>
#include <unistd.h>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

constexpr const char* kPortal = "org.freedesktop.portal.Desktop";
constexpr const char* kPortalPath = "/org/freedesktop/portal/desktop";
constexpr const char* kChooser = "org.freedesktop.portal.FileChooser";
constexpr const char* kRequest = "org.freedesktop.portal.Request";
constexpr int kPatience_ms = 3000; // for a portal that the bus may have to start
constexpr guint kLook_ms = 100;

struct Free {
    void operator()(gpointer memory) const { g_free(memory); }
    void operator()(GError* fault) const { g_error_free(fault); }
    void operator()(GDBusConnection* bus) const { g_object_unref(bus); }
    void operator()(GVariant* value) const { g_variant_unref(value); }
};
template <class T> using Owned = std::unique_ptr<T, Free>;

/// What is answered on this thread comes to this thread.
class Context {
public:
    Context() { g_main_context_push_thread_default(context_); }
    ~Context() {
        g_main_context_pop_thread_default(context_);
        g_main_context_unref(context_);
    }
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    /// Waits for something to come, and takes it; not for long.
    void turn() {
        GSource* source = g_timeout_source_new(kLook_ms);
        g_source_set_callback(
            source, [](gpointer) -> gboolean { return G_SOURCE_REMOVE; }, nullptr, nullptr);
        g_source_attach(source, context_);
        g_main_context_iteration(context_, TRUE);
        g_source_destroy(source);
        g_source_unref(source);
    }

private:
    GMainContext* context_ = g_main_context_new();
};

struct Waiting {
    std::optional<FileDialogAnswer> answer;
};

fs::path file_of(const char* uri) {
    const Owned<char> name(g_filename_from_uri(uri, nullptr, nullptr));
    return name ? fs::path(name.get()) : fs::path();
}

void take_response(GDBusConnection*, const char*, const char*, const char*, const char*, GVariant* parameters,
                   gpointer waiting) {
    if (!g_variant_is_of_type(parameters, G_VARIANT_TYPE("(ua{sv})"))) {
        return;
    }
    guint32 response = 0;
    GVariant* held = nullptr;
    g_variant_get(parameters, "(u@a{sv})", &response, &held);
    const Owned<GVariant> results(held);
    FileDialogAnswer answer{FileDialogAnswer::What::cancelled};
    if (response == 0) {
        const Owned<GVariant> uris(g_variant_lookup_value(held, "uris", G_VARIANT_TYPE_STRING_ARRAY));
        answer.what = FileDialogAnswer::What::unusable;
        if (uris && g_variant_n_children(uris.get()) > 0) {
            const Owned<GVariant> first(g_variant_get_child_value(uris.get(), 0));
            answer.file = file_of(g_variant_get_string(first.get(), nullptr));
            if (!answer.file.empty()) {
                answer.what = FileDialogAnswer::What::chosen;
            }
        }
    }
    static_cast<Waiting*>(waiting)->answer = std::move(answer);
}

/// The portal went away with its dialog.
void take_loss(GDBusConnection*, const char*, const char*, const char*, const char*, GVariant* parameters,
               gpointer waiting) {
    if (!g_variant_is_of_type(parameters, G_VARIANT_TYPE("(sss)"))) {
        return;
    }
    const char* now = nullptr;
    g_variant_get(parameters, "(&s&s&s)", nullptr, nullptr, &now);
    auto& answer = static_cast<Waiting*>(waiting)->answer;
    if (*now == '\0' && !answer) {
        answer = FileDialogAnswer{FileDialogAnswer::What::not_offered};
    }
}

/// A connection of our own: what the rest of the process does on the bus, if anything, is not waited for.
Owned<GDBusConnection> connected() {
    const Owned<char> address(g_dbus_address_get_for_bus_sync(G_BUS_TYPE_SESSION, nullptr, nullptr));
    if (!address) {
        return nullptr;
    }
    constexpr auto flags = static_cast<GDBusConnectionFlags>(G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT |
                                                             G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION);
    return Owned<GDBusConnection>(
        g_dbus_connection_new_for_address_sync(address.get(), flags, nullptr, nullptr, nullptr));
}

Owned<GVariant> call(GDBusConnection* bus, const char* interface, const char* method, GVariant* parameters,
                     const char* returns) {
    return Owned<GVariant>(g_dbus_connection_call_sync(bus, kPortal, kPortalPath, interface, method, parameters,
                                                       G_VARIANT_TYPE(returns), G_DBUS_CALL_FLAGS_NONE, kPatience_ms,
                                                       nullptr, nullptr));
}

/// GLib refuses texts that are not UTF-8 loudly; a folder's name may be anything.
GVariant* text(const std::string& words) {
    return g_variant_new_string(g_utf8_validate(words.c_str(), -1, nullptr) != 0 ? words.c_str() : "");
}

GVariant* filter_of(const FileDialogAsked::Filter& filter) {
    GVariantBuilder globs;
    g_variant_builder_init(&globs, G_VARIANT_TYPE("a(us)"));
    for (const std::string& glob : filter.globs) {
        g_variant_builder_add(&globs, "(us)", 0U, glob.c_str());
    }
    return g_variant_new("(sa(us))", filter.words.c_str(), &globs);
}

GVariant* options_of(const FileDialogAsked& asked, const std::string& token) {
    GVariantBuilder options;
    g_variant_builder_init(&options, G_VARIANT_TYPE_VARDICT);
    const auto add = [&](const char* key, GVariant* value) { g_variant_builder_add(&options, "{sv}", key, value); };
    add("handle_token", g_variant_new_string(token.c_str()));
    add("modal", g_variant_new_boolean(TRUE));
    if (!asked.folder.empty()) {
        add("current_folder", g_variant_new_bytestring(asked.folder.c_str()));
    }
    if (asked.save) {
        add("current_name", text(asked.name));
        std::error_code ignored;
        if (const fs::path file = asked.folder / asked.name; fs::is_regular_file(file, ignored)) {
            add("current_file", g_variant_new_bytestring(file.c_str()));
        }
    }
    if (!asked.filters.empty()) {
        GVariantBuilder filters;
        g_variant_builder_init(&filters, G_VARIANT_TYPE("a(sa(us))"));
        for (const FileDialogAsked::Filter& filter : asked.filters) {
            g_variant_builder_add_value(&filters, filter_of(filter));
        }
        add("filters", g_variant_builder_end(&filters));
        add("current_filter", filter_of(asked.filters.front()));
    }
    return g_variant_builder_end(&options);
}

/// Who answers under the portal's name at the moment; empty if nobody does.
std::string owner_of_portal(GDBusConnection* bus) {
    const Owned<GVariant> reply(g_dbus_connection_call_sync(
        bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "GetNameOwner",
        g_variant_new("(s)", kPortal), G_VARIANT_TYPE("(s)"), G_DBUS_CALL_FLAGS_NONE, kPatience_ms, nullptr, nullptr));
    const char* owner = "";
    if (reply) {
        g_variant_get(reply.get(), "(&s)", &owner);
    }
    return owner;
}

class Listening {
public:
    Listening(GDBusConnection* bus, Waiting& waiting) : bus_(bus), waiting_(waiting), portal_(owner_of_portal(bus)) {
        losses_ = g_dbus_connection_signal_subscribe(bus, "org.freedesktop.DBus", "org.freedesktop.DBus",
                                                     "NameOwnerChanged", "/org/freedesktop/DBus", kPortal,
                                                     G_DBUS_SIGNAL_FLAGS_NONE, take_loss, &waiting_, nullptr);
    }
    ~Listening() {
        g_dbus_connection_signal_unsubscribe(bus_, losses_);
        stop();
    }
    Listening(const Listening&) = delete;
    Listening& operator=(const Listening&) = delete;
    void to(const std::string& handle) {
        if (handle != handle_) {
            stop();
            handle_ = handle;
            responses_ = g_dbus_connection_signal_subscribe(bus_, portal_.c_str(), kRequest, "Response",
                                                            handle_.c_str(), nullptr, G_DBUS_SIGNAL_FLAGS_NONE,
                                                            take_response, &waiting_, nullptr);
        }
    }
    [[nodiscard]] const std::string& handle() const { return handle_; }

private:
    void stop() {
        if (responses_ != 0) {
            g_dbus_connection_signal_unsubscribe(bus_, responses_);
        }
    }
    GDBusConnection* bus_;
    Waiting& waiting_;
    std::string portal_; // by the bus's own name for it: nobody else's answer counts
    guint losses_ = 0, responses_ = 0;
    std::string handle_;
};

/// Where the answer will come from, as the portal says it builds it: known before the question is asked, so that no quick
/// answer is missed.
std::string handle_for(GDBusConnection* bus, const std::string& token) {
    std::string sender = g_dbus_connection_get_unique_name(bus);
    sender.erase(0, 1); // ':'
    std::replace(sender.begin(), sender.end(), '.', '_');
    return fmt::format("{}/request/{}/{}", kPortalPath, sender, token);
}

} // namespace

bool file_dialog_thinkable() {
    if (const char* address = std::getenv("DBUS_SESSION_BUS_ADDRESS")) {
        return *address != '\0' && std::string_view(address) != "disabled:";
    }
    // Without an address GLib would start a bus by itself; one that nobody else is on has no dialog.
    const char* runtime = std::getenv("XDG_RUNTIME_DIR");
    std::error_code ignored;
    return runtime != nullptr && fs::exists(fs::path(runtime) / "bus", ignored);
}

FileDialogAnswer ask_file_dialog(const FileDialogAsked& asked, const std::function<bool()>& give_up) {
    const FileDialogAnswer none{FileDialogAnswer::What::not_offered};
    if (!file_dialog_thinkable()) {
        return none;
    }
    Context context;
    const Owned<GDBusConnection> bus = connected();
    if (!bus ||
        !call(bus.get(), "org.freedesktop.DBus.Properties", "Get", g_variant_new("(ss)", kChooser, "version"), "(v)")) {
        return none;
    }
    static std::atomic<unsigned> count{0};
    const std::string token = fmt::format("evenclose{}_{}", getpid(), ++count);
    Waiting waiting;
    Listening listening(bus.get(), waiting);
    listening.to(handle_for(bus.get(), token));
    const Owned<GVariant> handle =
        call(bus.get(), kChooser, asked.save ? "SaveFile" : "OpenFile",
             g_variant_new("(ss@a{sv})", asked.parent.c_str(), asked.title.c_str(), options_of(asked, token)), "(o)");
    if (!handle) {
        return none;
    }
    const char* given = nullptr;
    g_variant_get(handle.get(), "(&o)", &given);
    listening.to(given); // portals before version 0.9 name it as they like
    while (!waiting.answer) {
        context.turn();
        if (g_dbus_connection_is_closed(bus.get()) != 0) {
            return none;
        }
        if (!waiting.answer && give_up()) {
            g_dbus_connection_call(bus.get(), kPortal, listening.handle().c_str(), kRequest, "Close", nullptr, nullptr,
                                   G_DBUS_CALL_FLAGS_NONE, -1, nullptr, nullptr, nullptr);
            static_cast<void>(g_dbus_connection_flush_sync(bus.get(), nullptr, nullptr));
            return {FileDialogAnswer::What::cancelled};
        }
    }
    return *waiting.answer;
}

} // namespace evenclose
