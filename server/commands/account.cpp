// SPDX-License-Identifier: MIT
// account: who may come in, for the one who runs the service; beside it or without it. Prints one-time links, and
// nothing that lasts.
#include <iostream>
#include <memory>

#include <nlohmann/json.hpp>

#include "server/access/access_service.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct AccountOptions {
  std::string data, role, agency = "agency", household, label, account, reference, public_address;
  bool without_passkey = false, as_json = false;
};

std::unique_ptr<store::Store> open_present_store(const std::string& data) {
  const auto file = std::filesystem::path(data) / store::file_name;
  if (!std::filesystem::exists(file)) throw std::runtime_error("there is no store in " + data + ": serve it first");
  return store::open_sqlite_store(file);
}

void say(const AccountOptions& options, const nlohmann::json& document, const std::string& plain) {
  std::cout << (options.as_json ? document.dump() : plain) << std::endl;
}

/// What links begin with: as given, or as the service last said.
std::string public_address(const AccountOptions& options, store::AccessStore& store) {
  if (!options.public_address.empty()) return options.public_address;
  return store.note("public_address").value_or("http://localhost:8080");
}

access::Wish read_wish(const AccountOptions& options, store::Store& store) {
  using access::Role;
  access::Wish wish;
  const auto role = access::role_named(options.role);
  if (!role || *role == Role::guest) {
    throw std::invalid_argument(
        "--role takes household, planner, technician, administrator or operator; a guest is "
        "invited on the page, with hours and a last day");
  }
  wish.role = *role;
  const nlohmann::json label = options.label;
  wish.label = json::Field(label, "--label").text(80);
  wish.without_passkey = options.without_passkey;
  if (!access::has_agency(*role)) return wish;
  if (!store.access().has_agency(options.agency)) throw std::invalid_argument("there is no agency " + options.agency);
  wish.agency = options.agency;
  if (!access::is_phone(*role)) return wish;
  wish.household_key = household_key(options.agency, options.household);
  if (!store.household(wish.household_key)) {
    throw std::invalid_argument("there is no household '" + options.household + "': give --household REFERENCE");
  }
  return wish;
}

int run_add(const AccountOptions& options) {
  const auto store = open_present_store(options.data);
  const auto wish = read_wish(options, *store);
  const auto invited = access::invite(store->access(), wish, SystemClock().now());
  const auto link = access::invitation_link(public_address(options, store->access()), invited.code);
  const auto until = cellarer::json::rfc3339(invited.expires_at, nullptr);
  say(options,
      {{"account", invited.account},
       {"invitation", invited.invitation},
       {"link", link},
       {"code", invited.code},
       {"expires_at", until}},
      link + "\ngood once, until " + until + "; account " + invited.account);
  return done;
}

int run_again(const AccountOptions& options) {
  const auto store = open_present_store(options.data);
  const auto account = store->access().account(options.account);
  if (!account || account->ended_at) throw std::invalid_argument("there is no account " + options.account);
  access::Wish wish;
  wish.account = account->id;
  wish.role = access::role_named(account->role).value_or(access::Role::guest);
  wish.agency = account->agency;
  wish.household_key = account->household;
  wish.label = account->label;
  const auto invited = access::invite(store->access(), wish, SystemClock().now());
  const auto link = access::invitation_link(public_address(options, store->access()), invited.code);
  say(options, {{"account", invited.account}, {"link", link}, {"code", invited.code}}, link);
  return done;
}

int run_list(const AccountOptions& options) {
  const auto store = open_present_store(options.data);
  auto accounts = nlohmann::json::array();
  std::string plain;
  const auto add = [&](const std::string& agency) {
    for (const auto& row : store->access().accounts(agency, "")) {
      const auto seen = row.last_seen_at ? cellarer::json::rfc3339(*row.last_seen_at, nullptr) : "never";
      accounts.push_back({{"account", row.account.id},
                          {"agency", agency},
                          {"role", row.account.role},
                          {"label", row.account.label},
                          {"last_seen", seen}});
      plain += row.account.id + "  " + (agency.empty() ? "-" : agency) + "  " + row.account.role + "  " +
               row.account.label + "  last seen " + seen + "\n";
    }
  };
  add("");
  for (const auto& size : store->access().agencies()) add(size.reference);
  if (!plain.empty()) plain.pop_back();
  say(options, {{"accounts", accounts}}, plain.empty() ? "no staff account is there yet" : plain);
  return done;
}

int run_end(const AccountOptions& options) {
  const auto store = open_present_store(options.data);
  if (!store->access().end_account(options.account, "by-agency", {"", SystemClock().now()})) {
    throw std::invalid_argument("there is no account " + options.account + ", or it has ended");
  }
  say(options, {{"ended", options.account}}, "ended; a running service heeds it within seconds");
  return done;
}

int run_agency(const AccountOptions& options) {
  if (!is_agency_reference(options.reference)) {
    throw std::invalid_argument("an agency is named by 1 to 40 small letters, digits and hyphens");
  }
  const auto store = open_present_store(options.data);
  if (!store->access().add_agency(options.reference, {"", SystemClock().now()})) {
    throw std::invalid_argument("the agency " + options.reference + " is there already");
  }
  say(options, {{"agency", options.reference}}, "made the agency " + options.reference);
  return done;
}

CLI::App* part(CLI::App* parent, const std::shared_ptr<AccountOptions>& options, const char* name, const char* what) {
  CLI::App* app = parent->add_subcommand(name, what);
  app->add_option("--data", options->data, "folder of the store")->required();
  app->add_flag("--json", options->as_json, "answer as JSON");
  return app;
}

}  // namespace

Command add_account(CLI::App& parent) {
  auto options = std::make_shared<AccountOptions>();
  CLI::App* app =
      parent.add_subcommand("account", "who may come in: invite, list, end; works beside a running service");
  app->require_subcommand(1);
  CLI::App* add = part(app, options, "add", "print a one-time link for a new account");
  add->add_option("--role", options->role, "household, planner, technician, administrator, operator")->required();
  add->add_option("--agency", options->agency, "'agency' where not given");
  add->add_option("--household", options->household, "reference, for a phone");
  add->add_option("--label", options->label, "what lists show: \"Kitchen phone\", never a name")->required();
  add->add_flag("--without-passkey", options->without_passkey, "staff, for a program: signs in once, for twelve hours");
  add->add_option("--public-address", options->public_address, "what the link begins with; as served where not given");
  CLI::App* again = part(app, options, "again", "print a one-time link by which an account gets a new passkey");
  again->add_option("account", options->account)->required();
  again->add_option("--public-address", options->public_address,
                    "what the link begins with; as served where not given");
  CLI::App* list = part(app, options, "list", "staff accounts of all agencies");
  CLI::App* end = part(app, options, "end", "end an account with its sessions");
  end->add_option("account", options->account)->required();
  CLI::App* agency = part(app, options, "agency", "make an agency");
  agency->add_option("reference", options->reference)->required();
  return {app, [=] {
            if (*add) return run_add(*options);
            if (*again) return run_again(*options);
            if (*list) return run_list(*options);
            return *end ? run_end(*options) : run_agency(*options);
          }};
}

}  // namespace cellarer::commands
