/** An equation as MathML, which browsers set and screen readers speak. */
import temml from "temml";

export function Formula(props: { readonly of: string }) {
  return <div class="formula" innerHTML={mathOf(props.of)} />;
}

/** Without the styles that are written into it: the page's policy allows none, and the display attribute says the same. */
function mathOf(formula: string): string {
  return temml.renderToString(formula, { displayMode: true }).replace(/ style="[^"]*"/g, "");
}
