// SPDX-License-Identifier: MIT
#include "server/api/table_routes.hpp"

#include "server/api/table_handlers.hpp"

namespace cellarer::api {

using enum ProblemCode;
using enum access::Permission;

std::vector<Route> table_routes() {
  std::vector<Route> all{
      {"POST",
       "/imports/check",
       "checkImport",
       "Every problem of tables to be taken in; nothing is stored",
       import_tables,
       Runs::compute,
       post_import_check,
       nullptr,
       "Tables",
       "CheckedTables",
       200,
       {},
       {},
       false},
      {"POST",
       "/imports",
       "import",
       "Takes in households, items and counts: all or nothing",
       import_tables,
       Runs::write,
       post_import,
       nullptr,
       "Tables",
       "AppliedTables",
       201,
       {},
       {import_refused}},
      {"GET",
       "/exports/{table}",
       "exportTable",
       "households, items, counts or forecast, as .csv or .json; the first three can be imported",
       export_agency,
       Runs::compute,
       get_export_table,
       nullptr,
       nullptr,
       "ExportedTable",
       200,
       {},
       {not_found}},
  };
  return all;
}

}  // namespace cellarer::api
