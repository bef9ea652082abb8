import { spawn } from "node:child_process";
import { resolve } from "node:path";
import { Command } from "commander";
import { Notebook } from "../../notebook/index.ts";
import { Refusal } from "../../quantity/index.ts";
import { startServer } from "../../server/index.ts";
import { decodeFrame } from "../files.ts";
import { print } from "../output.ts";
import { openSetup } from "../setup-file.ts";

export function openCommand(): Command {
  return new Command("open")
    .description("the bench in the browser, served from this machine to this machine only")
    .argument("[setup]", "setup file to start from; without one, the demo")
    .option("--port <number>", "port on the loopback address; 0 takes a free one", "0")
    .option(
      "--notebook <folder>",
      "notebook that the page may look into and add to; made where there is none",
    )
    .option("--no-browser", "only print the address")
    .action(
      async (path: string | undefined, options: { port: string; browser: boolean; notebook?: string }) => {
        const port = Number(options.port);
        if (!Number.isInteger(port) || port < 0 || port > 65535) {
          throw new Refusal({
            code: "bad-port",
            field: "--port",
            received: options.port,
            expected: "a whole number from 0 to 65535",
          });
        }
        if (path !== undefined) await openSetup(path, []);
        const notebook = options.notebook === undefined ? undefined : Notebook.openOrCreate(options.notebook);
        const server = await startServer({
          port,
          ...(path === undefined ? {} : { setupPath: resolve(path) }),
          ...(notebook === undefined ? {} : { notebook: { notebook, decode: decodeFrame } }),
        });
        print(`The bench is open at ${server.url} (Ctrl-C closes it).`);
        if (options.browser) openBrowser(server.url);
        await new Promise<void>((done) => {
          const stop = (): void => {
            void server.close().finally(() => {
              notebook?.close();
              done();
            });
          };
          process.once("SIGINT", stop);
          process.once("SIGTERM", stop);
        });
      },
    );
}

/** Asks the desktop to show the page; where there is none, the printed address is enough. */
function openBrowser(url: string): void {
  const command =
    process.platform === "darwin" ? "open" : process.platform === "win32" ? "explorer" : "xdg-open";
  if (
    process.platform === "linux" &&
    process.env["DISPLAY"] === undefined &&
    process.env["WAYLAND_DISPLAY"] === undefined
  )
    return;
  const child = spawn(command, [url], { stdio: "ignore", detached: true });
  child.on("error", () => undefined);
  child.unref();
}
