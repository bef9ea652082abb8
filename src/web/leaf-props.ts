import type { Sights } from "./state/sight.ts";
import type { BenchStore } from "./state/store.ts";
import type { ThemeState } from "./state/theme.ts";
import type { Post } from "./worker/client.ts";

/** What every leaf is given; the setup that is open is `store.bench().setup`. */
export interface LeafProps {
  readonly store: BenchStore;
  /** the forecast of the open setup, as the picture shows it */
  readonly sights: Sights;
  readonly theme: ThemeState;
  /** undefined where the browser forbids it */
  readonly storage: Storage | undefined;
  readonly startForesight: () => Post;
  readonly startReader: () => Post;
}
