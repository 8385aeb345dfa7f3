// Forms marked data-outbox are sent from here, so that a lost connection loses nothing: what could
// not be sent waits on this device, photos too, and each has an id so that none is done twice.
const told = document.getElementById("outbox");
const open = new Promise((good, bad) => {
  const asked = indexedDB.open("xref-outbox", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("form", {keyPath: "once"});
  asked.onsuccess = () => good(asked.result);
  asked.onerror = () => bad(asked.error);
});
const all = async (mode, what) => {
  const store = (await open).transaction("form", mode).objectStore("form");
  return new Promise((good, bad) => {
    const asked = what(store);
    asked.onsuccess = () => good(asked.result);
    asked.onerror = () => bad(asked.error);
  });
};
const say = key => { told.textContent = told.dataset[key]; told.hidden = false; };
const post = ({path, fields}) => {
  const body = new FormData();
  for (const [name, value] of fields) body.append(name, value);
  return fetch(path, {method: "POST", body: fields.some(f => f[1] instanceof File) ? body : new URLSearchParams(body)});
};

async function empty() {
  let sent = 0, refused = false;
  for (const kept of await all("readonly", s => s.getAll())) {
    let answer;
    try { answer = await post(kept); } catch { say("waiting"); return; }
    if (answer.status === 409 || answer.status >= 500) { say("waiting"); return; }
    refused ||= !answer.ok;
    await all("readwrite", s => s.delete(kept.once));
    sent += 1;
  }
  if (sent) say(refused ? "refused" : "sent");
}

document.addEventListener("submit", async event => {
  const form = event.target;
  if (!form.matches("[data-outbox]")) return;
  event.preventDefault();
  const button = event.submitter;
  const fields = [...new FormData(form, button)];
  const kept = {once: form.elements.once.value, path: form.getAttribute("action"), fields};
  if (button) button.disabled = true;
  let answer;
  try { answer = await post(kept); } catch { answer = null; }
  if (answer && answer.redirected) { location.assign(answer.url); return; }
  if (answer) {  // refused: the page that says why, in place of this one, is one step back from it
    const said = new DOMParser().parseFromString(await answer.text(), "text/html");
    document.querySelector("main").replaceWith(said.querySelector("main"));
    history.pushState(null, "", location.href);
    window.addEventListener("popstate", () => location.reload(), {once: true});
    return;
  }
  await all("readwrite", s => s.put(kept));
  if (button) button.disabled = false;
  form.elements.once.value = crypto.getRandomValues(new Uint32Array(4)).join("-");
  say("waiting");
});
addEventListener("online", empty);
setInterval(async () => { if (await all("readonly", s => s.count())) empty(); }, 5000);
empty();
