// SPDX-License-Identifier: MIT
#include "server/api/access_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* ways_in = R"json({
  "Role": {"enum": ["household", "guest", "planner", "technician", "administrator", "operator"]},
  "ClockTime": {"type": "string", "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$"},
  "Hours": {"type": "object", "required": ["from", "to"], "description": "by the household's clock; over midnight where to is not after from",
    "properties": {"from": {"$ref": "#/components/schemas/ClockTime"}, "to": {"$ref": "#/components/schemas/ClockTime"}}},
  "TimeOrNull": {"type": ["string", "null"], "format": "date-time"},
  "Session": {"type": "object", "required": ["role", "label", "agency", "household", "account", "until", "hours", "permissions", "recovery_used_at"],
    "properties": {"role": {"$ref": "#/components/schemas/Role"}, "label": {"$ref": "#/components/schemas/Label"},
    "agency": {"type": ["string", "null"]}, "household": {"type": ["string", "null"]}, "account": {"type": "string"},
    "until": {"$ref": "#/components/schemas/TimeOrNull"},
    "hours": {"anyOf": [{"$ref": "#/components/schemas/Hours"}, {"type": "null"}]},
    "permissions": {"type": "array", "items": {"type": "string"}},
    "recovery_used_at": {"$ref": "#/components/schemas/TimeOrNull"},
    "recovery_codes": {"type": "array", "items": {"type": "string"}, "description": "with a first passkey: shown once"},
    "new_code_needed": {"type": "boolean", "description": "a sealed code was used up: make a new one"}}},
  "NewInvitation": {"type": "object", "required": ["role", "label"], "properties": {
    "role": {"$ref": "#/components/schemas/Role"}, "label": {"$ref": "#/components/schemas/Label"},
    "household": {"type": "string", "maxLength": 64, "description": "of a phone; a phone's own where not given"},
    "hours": {"$ref": "#/components/schemas/Hours"},
    "until": {"$ref": "#/components/schemas/Time"},
    "agency": {"type": "string", "description": "named by the operator alone"}},
    "if": {"properties": {"role": {"const": "guest"}}}, "then": {"required": ["until"]}},
  "Invitation": {"type": "object", "required": ["invitation", "account", "link", "code", "expires_at", "qr"], "properties": {
    "invitation": {"type": "string"}, "account": {"type": "string"},
    "link": {"type": "string", "description": "the code stands in its fragment, which browsers do not send"},
    "code": {"type": "string"}, "expires_at": {"$ref": "#/components/schemas/Time"},
    "qr": {"type": "array", "items": {"type": "string", "pattern": "^[01]+$"}, "description": "rows of the QR code, 1 a dark module"}}},
  "Invitations": {"type": "object", "required": ["invitations"], "properties": {"invitations": {"type": "array", "items": {
    "type": "object", "required": ["invitation", "account", "role", "label", "household", "expires_at"]}}}},
  "Acceptance": {"type": "object", "required": ["code"], "properties": {
    "code": {"type": "string", "maxLength": 100}, "label": {"$ref": "#/components/schemas/Label"}}},
  "Nothing": {"type": "object", "description": "{}, or no body"},
  "PasskeyOptions": {"type": "object", "required": ["passkey_options"], "properties": {
    "passkey_options": {"type": "object", "description": "PublicKeyCredentialCreationOptionsJSON (WebAuthn Level 3)"}}},
  "NewPasskey": {"type": "object", "required": ["credential"], "properties": {
    "code": {"type": "string", "maxLength": 100}, "credential": {"type": "object", "description": "RegistrationResponseJSON"}}},
  "SignInOptions": {"type": "object", "required": ["challenge_id", "options"], "properties": {
    "challenge_id": {"type": "string"}, "options": {"type": "object", "description": "PublicKeyCredentialRequestOptionsJSON"}}},
  "SignIn": {"type": "object", "required": ["challenge_id", "credential"], "properties": {
    "challenge_id": {"type": "string", "maxLength": 100}, "credential": {"type": "object", "description": "AuthenticationResponseJSON"}}},
  "TypedCode": {"type": "object", "required": ["code"], "properties": {"code": {"type": "string", "maxLength": 100}}},
  "SealedCode": {"type": "object", "required": ["code"], "properties": {"code": {"type": "string", "description": "shown once"}}},
  "Phones": {"type": "object", "required": ["phones"], "properties": {"phones": {"type": "array", "items": {
    "type": "object", "required": ["account", "role", "label", "since", "last_seen", "hours", "until", "this_phone"]}}}},
  "Accounts": {"type": "object", "required": ["accounts"], "properties": {"accounts": {"type": "array", "items": {
    "type": "object", "required": ["account", "role", "label", "since", "last_seen", "this_account"]}}}},
  "Sessions": {"type": "object", "required": ["sessions"], "properties": {"sessions": {"type": "array", "items": {
    "type": "object", "required": ["session", "label", "signed_in_at", "last_seen", "until", "this_session"]}}}},
  "Erase": {"type": "object", "required": ["erase"], "properties": {"erase": {"type": "string",
    "description": "the household's reference once more"}}},
  "NewAgency": {"type": "object", "required": ["agency"], "properties": {"agency": {"type": "string", "pattern": "^[a-z0-9-]{1,40}$"}}},
  "Agency": {"type": "object", "required": ["agency"]},
  "Agencies": {"type": "object", "required": ["agencies"], "properties": {"agencies": {"type": "array", "items": {
    "type": "object", "required": ["agency", "households", "accounts"]}}}}
})json";

}  // namespace

nlohmann::json access_schemas() { return nlohmann::json::parse(ways_in); }

}  // namespace cellarer::api
