-- A real editor at a real server: Neovim (0.7 or newer) without a screen opens
-- a dish, is told what is wrong, takes a fix, brings the file into form, looks
-- around, and writes it.
--
--   PORRINGER=target/release/porringer DISH=mash.dish \
--     nvim --headless -u NONE -c 'luafile tests/editor/neovim.lua'
--
-- Leaves with exit code 1 at the first thing that is not as it should be.

local program, file = vim.env.PORRINGER, vim.env.DISH

local function fail(what)
  io.stderr:write("neovim: " .. what .. "\n")
  vim.cmd("cquit 1")
end

local function hold(what, is)
  if not is then fail(what) end
end

--- Waits for something; what never comes fails.
local function wait(what, is)
  hold(what .. " never came", vim.wait(60000, is, 20))
end

local ok, trouble = pcall(function()
  vim.cmd("edit " .. vim.fn.fnameescape(file))
  local buffer = vim.api.nvim_get_current_buf()
  local client_id = vim.lsp.start_client({
    name = "porringer",
    cmd = { program, "lsp" },
    root_dir = vim.fn.fnamemodify(file, ":p:h"),
    get_language_id = function() return "dish" end,
  })
  hold("the server does not start", client_id)
  vim.lsp.buf_attach_client(buffer, client_id)

  --- The messages that stop a card.
  local function errors()
    return vim.diagnostic.get(buffer, { severity = vim.diagnostic.severity.ERROR })
  end
  local function codes()
    local found = {}
    for _, message in ipairs(errors()) do
      local code = message.code or (message.user_data and message.user_data.lsp and message.user_data.lsp.code)
      table.insert(found, code)
    end
    table.sort(found)
    return table.concat(found, " ")
  end

  --- Answers of the server, the one that there is.
  local function ask(method, params)
    local answers, problem = vim.lsp.buf_request_sync(buffer, method, params, 60000)
    hold(method .. ": " .. tostring(problem), answers)
    for _, answer in pairs(answers) do
      hold(method .. ": " .. vim.inspect(answer.error or answer.err), not (answer.error or answer.err))
      return answer.result
    end
    fail(method .. " has no answer")
  end

  local function document() return { uri = vim.uri_from_bufnr(buffer) } end

  wait("the messages", function() return codes() == "method/unknown-process syntax/comma-decimal" end)

  -- Every message has a fix; the editor makes them.
  while #errors() > 0 do
    local before = #errors()
    local message = errors()[1]
    local place = { line = message.lnum, character = message.col }
    local actions = ask("textDocument/codeAction", {
      textDocument = document(),
      range = { start = place, ["end"] = place },
      context = { diagnostics = {} },
    })
    hold("no fix for " .. message.message, actions and actions[1] and actions[1].edit)
    vim.lsp.util.apply_workspace_edit(actions[1].edit, "utf-16")
    wait("what the fix mends", function() return #errors() == before - 1 end)
  end

  -- A name leads to its line, and another name goes wherever it stands.
  local line = vim.fn.search("boil potato", "n") - 1
  local place = { textDocument = document(), position = { line = line, character = 16 } }
  local found = ask("textDocument/definition", place)
  hold("the definition", found and vim.fn.getline(found.range.start.line + 1):match("^take.*as potato"))
  place.newName = "orange one"
  vim.lsp.util.apply_workspace_edit(ask("textDocument/rename", place), "utf-16")
  hold("the new name", vim.fn.search("boil orange one", "n") == line + 1)
  local told = ask("textDocument/hover", { textDocument = document(), position = { line = line, character = 16 } })
  hold("the row of the food", vim.inspect(told):match("usda:11507"))

  -- Into form, and onto the disk.
  hold("the file is in form already", vim.fn.search("^take 2 eggs", "n") > 0)
  if vim.lsp.buf.format then
    vim.lsp.buf.format({ timeout_ms = 60000 })
  else
    vim.lsp.buf.formatting_sync(nil, 60000)
  end
  hold("the form", vim.fn.search("^take     2 eggs", "n") > 0)
  vim.cmd("write")

  vim.lsp.stop_client(client_id)
  wait("the end of the server", function() return vim.lsp.client_is_stopped(client_id) end)
  print("neovim: messages, fixes, names, form: all as they should be")
end)
if not ok then fail(tostring(trouble)) end
vim.cmd("qall!")
