// Passkeys: asks for the options, lets the browser's own dialogue answer them, and sends the form with the answer.
const ask = {
  create: options => navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(options) }),
  get: options => navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(options) }),
};

function tell(form, text) {
  const problem = form.querySelector("[data-passkey-problem]");
  problem.textContent = text;
  problem.hidden = !text;
}

async function options({ begin, failed }) {
  const answer = await fetch(begin, { method: "POST", headers: { Accept: "application/json" } });
  const body = await answer.json();
  if (!answer.ok) throw new Error(body.error?.text || failed);
  return body;
}

// What went wrong, in the words of the form: the browser's own names for it are in the WebAuthn standard.
function words(error, said) {
  if (error.name === "NotAllowedError") return said.closed;
  if (error.name === "InvalidStateError") return said.here;
  if (error instanceof TypeError) return said.offline;
  return error.message;
}

async function go(form, button) {
  button.disabled = true;
  tell(form, "");
  try {
    const made = await ask[form.dataset.passkey](await options(form.dataset));
    form.elements.answer.value = JSON.stringify(made.toJSON());
    form.requestSubmit();
  } catch (error) {
    tell(form, words(error, form.dataset));
  }
  button.disabled = false;
}

for (const form of document.querySelectorAll("form[data-passkey]")) {
  const button = form.querySelector("[data-passkey-go]");
  if (!window.PublicKeyCredential?.parseCreationOptionsFromJSON) {
    form.hidden = true;
    continue;
  }
  button.addEventListener("click", () => go(form, button));
  form.addEventListener("submit", event => {
    if (form.elements.answer.value) return;
    event.preventDefault();
    go(form, button);
  });
}
