// The import rule of the house: a room imports only rooms above it in this list.
const rooms = [
  "quantity",
  "reference",
  "numerics",
  "medium",
  "vessel",
  "path",
  "picture",
  "setup",
  "reading",
  "plan",
  "words",
  "notebook",
  "report",
];
const core = rooms.slice(0, rooms.indexOf("notebook"));
const doors = ["cli", "server", "web"];
const tests = "\\.test\\.tsx?$|/testing/";

/** Doors stand side by side; only the command line opens another one, by starting the server. */
const mayOpen = { cli: ["server"] };

const forbidden = [
  ...rooms.map((room, i) => ({
    name: `room-${room}-looks-only-up`,
    comment: `src/${room} may import only: ${rooms.slice(0, i).join(", ") || "no other room"}`,
    severity: "error",
    from: { path: `^src/${room}/` },
    to: { path: `^src/(?:(?:${[...rooms.slice(i + 1), ...doors].join("|")})/|index\\.ts$)` },
  })),
  ...doors.map((door) => ({
    name: `door-${door}-stands-alone`,
    comment: "Doors share the rooms, not each other.",
    severity: "error",
    from: { path: `^src/${door}/` },
    to: {
      path: `^src/(?:${doors.filter((d) => d !== door && !(mayOpen[door] ?? []).includes(d)).join("|")})/`,
    },
  })),
  {
    name: "no-unknown-room",
    comment:
      "A folder under src/ that the list above does not name has no place in the order yet: give it one.",
    severity: "error",
    from: { path: "^src/", pathNot: `^src/(?:(?:${[...rooms, ...doors].join("|")})/|index\\.ts$)` },
    to: {},
  },
  {
    name: "core-is-pure",
    comment:
      "The core runs in Node, in a browser worker and in a worker thread: no Node built-ins above the notebook.",
    severity: "error",
    from: { path: `^src/(?:${core.join("|")})/`, pathNot: tests },
    to: { dependencyTypes: ["core"] },
  },
  {
    name: "page-has-no-node",
    comment: "The page runs in a browser.",
    severity: "error",
    from: { path: "^src/web/", pathNot: tests },
    to: { dependencyTypes: ["core"] },
  },
  { name: "no-circular", severity: "error", from: {}, to: { circular: true } },
  {
    name: "no-unresolvable",
    severity: "error",
    from: {},
    to: { couldNotResolve: true, pathNot: "\\.css$|\\?" },
  },
  {
    name: "tests-stay-outside",
    comment: "Nothing that ships may lean on a test.",
    severity: "error",
    from: { path: "^src/", pathNot: tests },
    to: { path: `${tests}|^test/` },
  },
  {
    name: "ships-only-dependencies",
    comment: "What ships may not lean on a development package; types alone vanish on building.",
    severity: "error",
    from: { path: "^src/", pathNot: tests },
    to: { dependencyTypes: ["npm-dev"], dependencyTypesNot: ["type-only", "npm-no-pkg"] },
  },
];

module.exports = {
  forbidden,
  options: {
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      extensions: [".ts", ".tsx", ".json", ".mjs", ".js"],
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "default", "types"],
    },
  },
};
