// Answers while one types, and the keys for marks and sizes. Without it the form is sent as it is.
const $ = id => document.getElementById(id);
const form = $("question"), box = $("answer"), mark = $("mark"), said = $("said");
const PAUSE = 120, tab = Math.random().toString(36).slice(2);
let timer, asking;

function query(by) {
  const data = new URLSearchParams(new FormData(form, by));
  const full = new URLSearchParams([...data].filter(([, value]) => value.trim()));
  for (const usual of [["condition", "used"], ["tool", "caliper"]])
    if (full.get(usual[0]) === usual[1]) full.delete(usual[0]);
  return full;
}

async function ask(by) {
  clearTimeout(timer);
  asking?.abort();
  asking = new AbortController();
  const full = query(by);
  const address = full.size ? `?${full}` : "";
  history.replaceState(null, "", `/${address}`);
  try {
    const got = await fetch(`/answer${address}`, {signal: asking.signal, headers: {"X-Tab": tab}});
    if (got.status === 204) return;
    const text = await got.text();
    const inside = box.contains(document.activeElement);
    const open = [...box.querySelectorAll("details[open] summary")].map(one => one.textContent);
    box.innerHTML = got.ok ? text
      : new DOMParser().parseFromString(text, "text/html").querySelector("main").innerHTML;
    for (const one of box.querySelectorAll("summary"))
      if (open.includes(one.textContent)) one.parentElement.open = true;
    tell();
    if (inside) $("headline")?.focus();
  } catch (error) {
    if (error.name !== "AbortError") said.textContent = now.textContent = said.dataset.lost;
  }
}

const now = $("now").firstChild;
function tell() {
  said.textContent = now.textContent = $("headline")?.textContent ?? "";
  $("now").hidden = !query().size;
}

new IntersectionObserver(([seen]) => $("now").classList.toggle("hidden", seen.isIntersecting)).observe(box);

const later = () => { clearTimeout(timer); timer = setTimeout(ask, PAUSE); };
document.addEventListener("input", ({target}) => { if (target.form === form) later(); });
form.addEventListener("change", ({target}) => {
  // Another kind has other sizes: the whole page comes anew.
  if (target.name === "kind" || target.name === "another") location.assign(`/?${query()}`);
});
form.addEventListener("submit", event => { event.preventDefault(); ask(event.submitter); });
addEventListener("online", () => ask());

// The mark, sign by sign; `at` is the sign that the next key replaces.
let at = null, many = false;
const signs = () => mark.value.match(/\[[^\]]*\]?|./gu) ?? [];
const TURN = {6: "9", 9: "6", M: "W", W: "M"};
const SAME = "018HINOSXZ?*-/ .";

function show() {
  const held = signs();
  $("signs").replaceChildren(...held.map((sign, place) => {
    const key = document.createElement("button");
    Object.assign(key, {type: "button", className: "key", textContent: sign.trim() || "␣"});
    key.setAttribute("aria-pressed", place === at);
    key.onclick = () => { at = at === place ? null : place; many = false; show(); };
    return key;
  }));
  form.querySelector("[data-do=many]").setAttribute("aria-pressed", many);
}

function put(held) { mark.value = held.join(""); show(); later(); }

function press(key) {
  const held = signs();
  const place = at ?? held.length;
  if (many && !"?*".includes(key)) {
    const old = (held[place] ?? "").replace(/[[\]?*]/g, "");
    held[place] = old.includes(key) ? `[${old}]` : `[${old}${key}]`;
    at = place;
  } else {
    held[place] = key;
    at = null;
    many = false;
  }
  put(held);
}

const deeds = {
  many() { if (many) at = null; many = !many; show(); },
  back() { const held = signs(); held.splice(at ?? held.length - 1, 1); at = null; many = false; put(held); },
  turn() {
    at = null;
    const turned = char => TURN[char] ?? (SAME.includes(char) ? char : "?");
    put(signs().reverse().map(sign => sign.length > 1
      ? `[${[...sign].filter(c => !"[]".includes(c)).map(turned).join("")}]` : turned(sign.toUpperCase())));
  },
};

let size = form.querySelector("[data-size]");
form.addEventListener("focusin", ({target}) => { if (target.matches("[data-size]")) size = target; });
form.addEventListener("click", ({target}) => {
  const {key, do: deed, sizeKey} = target.closest("button")?.dataset ?? {};
  if (key) press(key);
  if (deed) deeds[deed]();
  if (sizeKey && size) {
    size.setRangeText(sizeKey, size.selectionStart, size.selectionEnd, "end");
    size.focus();
    later();
  }
});
mark.addEventListener("input", () => { at = null; many = false; show(); });
for (const one of form.querySelectorAll("[data-size]")) one.inputMode = "decimal";
$("pad").hidden = $("size-keys").hidden = false;
show();
tell();
