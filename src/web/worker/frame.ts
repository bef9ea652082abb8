/** What only an exact picture needs: the counts that the camera stores; a chunk of its own. */
export { frameOf } from "../../setup/frame.ts";
