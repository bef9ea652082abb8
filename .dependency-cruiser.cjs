// The import rule of the house: a room imports only rooms above it in this list.
const rooms = [
  "quantity", "reference", "numerics", "medium", "vessel", "path", "picture", "setup",
  "reading", "plan", "notebook", "report"
];
const doors = ["cli", "server", "web"];

const forbidden = rooms.map((room, i) => ({
  name: `room-${room}-looks-only-up`,
  comment: `src/${room} may import only: ${rooms.slice(0, i).join(", ") || "no other room"}`,
  severity: "error",
  from: { path: `^src/${room}/` },
  to: { path: `^src/(?:${[...rooms.slice(i + 1), ...doors].join("|")})/` }
}));
forbidden.push(
  ...doors.map((door) => ({
    name: `door-${door}-stands-alone`,
    severity: "error",
    from: { path: `^src/${door}/` },
    to: { path: `^src/(?:${doors.filter((d) => d !== door && !(door === "cli" && d === "server")).join("|")})/` }
  })),
  {
    name: "core-is-pure",
    comment: "The core runs in Node, in a browser worker and in a worker thread: no Node built-ins above the notebook.",
    severity: "error",
    from: { path: "^src/(?:quantity|reference|numerics|medium|vessel|path|picture|setup|reading|plan)/", pathNot: "\\.test\\.ts$|/testing/" },
    to: { dependencyTypes: ["core"] }
  },
  { name: "no-circular", severity: "error", from: {}, to: { circular: true } },
  { name: "no-unresolvable", severity: "error", from: {}, to: { couldNotResolve: true } },
  {
    name: "tests-stay-outside",
    severity: "error",
    from: { path: "^src/", pathNot: "\\.test\\.tsx?$" },
    to: { path: "\\.test\\.tsx?$|^test/" }
  }
);

module.exports = {
  forbidden,
  options: {
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { extensions: [".ts", ".tsx", ".json", ".mjs", ".js"] }
  }
};
