import { begin } from "axletree/field.js";
begin();
