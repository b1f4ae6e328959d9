// SPDX-License-Identifier: MIT
// Who may include whom. Each rule takes the tree and answers its objections, one sentence each.
import { withoutComments } from './tree.mjs';

/** What each room may include, beside itself. A room that is not listed may not be included across rooms. */
const rooms = {
  'model/quantities': [],
  'model/numerics': ['model/quantities'],
  'model/cell': ['model/quantities', 'model/numerics'],
  'model/duty': ['model/quantities', 'model/numerics', 'model/cell'],
  'model/life': ['model/quantities', 'model/numerics', 'model/cell', 'model/duty'],
  'model/stock': ['model/quantities', 'model/numerics', 'model/cell', 'model/duty', 'model/life'],
  'model/rounds': ['model/quantities', 'model/numerics', 'model/cell', 'model/duty', 'model/life', 'model/stock'],
  'model/review': ['model/quantities', 'model/numerics', 'model/cell', 'model/duty', 'model/life'],
  'server/json': ['model/quantities'],
  'server/calendar': ['model/quantities'],
  'server/csv': ['server/json', 'server'],
  'server/push': ['model/quantities', 'server/access', 'server'],
  'server/reminders': ['model/quantities', 'server/access', 'server/calendar', 'server/json', 'server/push', 'server/service', 'server/store', 'server'],
  'server/profiles': ['model', 'server/json'],
  'server/store': ['model/quantities', 'server/json', 'server'],
  'server/access': ['model/quantities', 'server/store', 'server/json', 'server'],
  'server/service': ['model', 'server/store', 'server/profiles', 'server/csv', 'server/json', 'server'],
  'server/api': ['model', 'server/access', 'server/service', 'server/calendar', 'server/csv', 'server/push', 'server/reminders', 'server/profiles', 'server/json', 'server'],
  'server/http': ['model/quantities', 'server/access', 'server/api', 'server/json', 'server'],
  'server/commands': ['model', 'server/http', 'server/api', 'server/access', 'server/service', 'server/store', 'server/profiles', 'server/json', 'server/push', 'server/reminders', 'server'],
  server: ['model', 'server/commands', 'server/http', 'server/api', 'server/access', 'server/service', 'server/store', 'server/profiles', 'server/json'],
};

const roomOf = (path) => {
  const parts = path.split('/').slice(0, -1);
  if (parts[0] === 'server' && parts.length === 1) return 'server';
  return parts.slice(0, 2).join('/');
};
const allows = (allowed, room) => allowed.some((one) => one === room || (one === 'model' && room.startsWith('model/')));

export function* includesOf(file) {
  for (const match of withoutComments(file.text).matchAll(/^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"]/gm)) {
    yield { own: match[1] === '"', path: match[2] };
  }
}
const isCpp = (file) => /\.(cpp|hpp)$/.test(file.path);

/** web -> http -> api -> service -> model, service -> store; in the model cell, duty, life, then the rest. */
export function wrongDirections(files) {
  const objections = [];
  for (const file of files.filter((one) => isCpp(one) && /^(model|server)\//.test(one.path))) {
    const from = roomOf(file.path);
    if (!rooms[from]) {
      objections.push(`${file.path} stands in a room that the house does not have: ${from}`);
      continue;
    }
    for (const include of includesOf(file)) {
      if (!include.own) continue;
      const to = roomOf(include.path);
      if (to !== from && !allows(rooms[from], to)) objections.push(`${file.path} includes ${include.path}: ${from} may not see ${to}`);
    }
  }
  return objections;
}

/** An include names its room from the project's top, never a neighbour by "..", so that the rule above sees it. */
export function includesWithoutRoom(files) {
  const objections = [];
  for (const file of files.filter(isCpp)) {
    for (const include of includesOf(file)) {
      if (include.own && !/^(model|server|tests)\//.test(include.path)) objections.push(`${file.path} includes "${include.path}" without its room`);
    }
  }
  return objections;
}

const worldly = /^(fstream|iostream|filesystem|thread|mutex|shared_mutex|future|condition_variable|atomic|csignal|unistd\.h|sys\/.*|netinet\/.*|arpa\/.*|time\.h|ctime|nlohmann\/.*|boost\/(asio|beast|url|json).*|SQLiteCpp\/.*|sqlite3\.h|spdlog\/.*|fmt\/.*|CLI\/.*|curl\/.*|zlib\.h)$/;
const worldlyWords = [
  [/\bgetenv\b/, 'the environment'],
  [/\b(system|steady|high_resolution|utc)_clock::now\b|\bstd::time\s*\(|\bgettimeofday\b/, 'a clock'],
  [/\brandom_device\b|\bstd::rand\b|\bsrand\s*\(/, 'a random source without a seed given'],
  [/\bstd::(cout|cerr|clog|cin|ifstream|ofstream|fstream)\b|\b(f?printf|fopen|puts|fwrite)\s*\(/, 'a file or a log'],
  [/\bstd::(jthread|thread|async|mutex)\b/, 'a thread'],
  [/\bcurrent_zone\s*\(/, 'the machine’s own time zone'],
];
const mutableGlobal = /^(?:[ \t]*(?:static|thread_local)|(?:inline|extern|static|thread_local))[ \t]+(?!.*\bconst(?:expr|eval|init)?\b)(?!_?assert)[\w:<>,*& \t]+?[ \t]\w+[ \t]*(?:=[^=]|;|\{)/m;

/** The model has no file, socket, clock, environment, thread, global, JSON, SQL or log. */
export function worldInTheModel(files) {
  const objections = [];
  for (const file of files.filter((one) => isCpp(one) && one.path.startsWith('model/'))) {
    const text = withoutComments(file.text);
    for (const include of includesOf(file)) {
      if (!include.own && worldly.test(include.path)) objections.push(`${file.path} includes <${include.path}>: the model does not touch the world`);
    }
    for (const [word, what] of worldlyWords) {
      const match = text.match(word);
      if (match) objections.push(`${file.path} uses ${what} (${match[0].trim()}): values come in as arguments`);
    }
    const global = text.match(mutableGlobal);
    if (global) objections.push(`${file.path} holds a global: ${global[0].trim()}`);
  }
  return objections;
}

const only = [
  [/^(SQLiteCpp\/|sqlite3)/, /^(server|tests\/server)\/store\/|^tests\/((server|faults|bench\/speed)\/|support\/store_by_hand\.hpp)/, 'SQL stays in server/store'],
  [/^boost\/(beast|asio(?!\/ip\/(address|network)))/, /^server\/(http|commands)\/|^tests\/bench\/speed\//, 'sockets stay in server/http'],
  [/^sodium(\.h|\/)/, /^server\/(access|store)\/|^tests\//, 'cryptography stays in server/access and server/store'],
  [/^openssl\//, /^server\/(access|store|http|push)\/|^tests\//, 'cryptography stays in server/access, server/push and server/store, TLS in server/http'],
  [/^curl\//, /^server\/push\/|^tests\//, 'only server/push calls others'],
  [/^CLI\//, /^(server\/(commands\/|main\.cpp)|tests\/bench\/(field_trial|rounds\/rounds_bench|faults\/fault_trial)\.cpp)/, 'the command line stays in server/commands and the benches'],
];

/** Libraries that touch the world are each used in one room. */
export function librariesOutOfTheirRoom(files) {
  const objections = [];
  for (const file of files.filter(isCpp)) {
    for (const include of includesOf(file)) {
      for (const [library, room, why] of only) {
        if (library.test(include.path) && !room.test(file.path)) objections.push(`${file.path} includes <${include.path}>: ${why}`);
      }
    }
  }
  return objections;
}

/** The pages speak HTTP only, and the black-box tests know the service from outside alone. */
export function insidersAtTheDoor(files) {
  const objections = [];
  for (const file of files) {
    if (/^web\/src\/.*\.(ts|tsx|js|mjs)$/.test(file.path)) {
      for (const match of file.text.matchAll(/\bfrom\s+['"]([^'"]+)['"]|\bimport\s*\(?\s*['"]([^'"]+)['"]/g)) {
        const path = match[1] ?? match[2];
        const up = path.split('/').filter((part) => part === '..').length;
        if (path.startsWith('.') && up > file.path.split('/').length - 3) objections.push(`${file.path} imports ${path}, from outside web/src`);
      }
    }
    if (/^tests\/http\//.test(file.path) && isCpp(file)) {
      for (const include of includesOf(file)) {
        if (include.own && /^(model|server)\//.test(include.path)) objections.push(`${file.path} includes ${include.path}: these tests know the service from outside`);
      }
    }
  }
  return objections;
}
