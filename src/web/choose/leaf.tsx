/** The leaf in which a setup is chosen: by a wish, by metal, or by what spoils it most. */
import type { LeafProps } from "../leaf-props.ts";
import { Improve } from "./improve.tsx";
import { Metals } from "./metals.tsx";
import { WishForm } from "./wish-form.tsx";
import "../planning/planning.css";
import "./choose.css";

export default function Choose(props: LeafProps) {
  return (
    <div class="choose planning">
      <WishForm {...props} />
      <Metals {...props} />
      <Improve {...props} />
    </div>
  );
}
