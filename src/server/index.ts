export { createApp, type AppOptions } from "./app.ts";
export { type Server, type ServerOptions, startServer } from "./start.ts";
