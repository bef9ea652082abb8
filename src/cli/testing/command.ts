/** The command line run inside the test's own process, with what it says on either stream. */
import { vi } from "vitest";
import { run } from "../main.ts";

interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export async function command(...args: string[]): Promise<Said> {
  let out = "";
  let err = "";
  const stdout = vi.spyOn(process.stdout, "write").mockImplementation((text) => {
    out += String(text);
    return true;
  });
  const stderr = vi.spyOn(process.stderr, "write").mockImplementation((text) => {
    err += String(text);
    return true;
  });
  try {
    return { code: await run(args), out, err };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
}
