-- A person's session, without the person: open, read the values, make a plate thinner, see the limit fail,
-- apply a repair. Ends with status 1 and a clear message at the first thing that is not as it should be.

local root = vim.env.HAUNCH_ROOT
local patience = 20000

local function fail(message)
  io.stderr:write("tests/neovim: " .. message .. "\n")
  os.exit(1)
end

--- Waits until `ready` returns something, and returns it.
local function wait_for(what, describe, ready)
  local found
  vim.wait(patience, function()
    found = ready()
    return found ~= nil and found ~= false
  end, 20)
  if not found then
    fail(what .. " did not come. Instead: " .. vim.inspect(describe()))
  end
  return found
end

vim.cmd("filetype plugin on")
vim.cmd.runtime("plugin/haunch.lua")
vim.lsp.config("haunch", { cmd = { vim.env.HAUNCH, "lsp" } })

local function open(path)
  vim.cmd.edit(root .. "/" .. path)
  local buffer = vim.api.nvim_get_current_buf()
  if vim.bo.filetype ~= "haunch" then
    fail(path .. " has the file type '" .. vim.bo.filetype .. "'")
  end
  wait_for("The server", vim.lsp.get_clients, function()
    local client = vim.lsp.get_clients({ bufnr = buffer, name = "haunch" })[1]
    return client and client.initialized
  end)
  return buffer
end

local function line_number(buffer, start)
  for number, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
    if vim.startswith(vim.trim(line), start) then
      return number - 1
    end
  end
  fail("no line starts with '" .. start .. "'")
end

--- The text of the hints on the line that starts so.
local function hints(buffer, start)
  local number = line_number(buffer, start)
  local range = {
    start = { line = number, character = 0 },
    ["end"] = { line = number + 1, character = 0 },
  }
  local texts = {}
  for _, hint in ipairs(vim.lsp.inlay_hint.get({ bufnr = buffer, range = range })) do
    local label = hint.inlay_hint.label
    if type(label) == "table" then
      label = table.concat(vim.tbl_map(function(part) return part.value end, label))
    end
    if hint.inlay_hint.position.line == number then
      table.insert(texts, label)
    end
  end
  return table.concat(texts, " ")
end

local function expect_hint(buffer, start, wanted)
  wait_for("The hint '" .. wanted .. "' on the line '" .. start .. "'", function()
    return { hints(buffer, start), vim.diagnostic.get(buffer) }
  end, function()
    return hints(buffer, start):find(wanted, 1, true)
  end)
end

local function findings(buffer, code)
  return vim.tbl_filter(function(finding)
    return code == nil or finding.code == code
  end, vim.diagnostic.get(buffer))
end

local function errors(buffer)
  return vim.diagnostic.get(buffer, { severity = vim.diagnostic.severity.ERROR })
end

local function expect_no_errors(buffer)
  wait_for("A file without errors", function() return errors(buffer) end, function()
    return #errors(buffer) == 0
  end)
end

-- The values of a tee under 6 kN*m, worked out by hand:
-- A = 120*10 + 8*140 = 2320 mm2; ybar = (1200*5 + 1120*80)/2320 = 41.21 mm;
-- I = 120*10^3/12 + 1200*36.21^2 + 8*140^3/12 + 1120*38.79^2 = 5.098e6 mm4;
-- at the bottom 6e6*41.21/5.098e6 = 48.50 MPa tension, at the top 6e6*108.79/5.098e6 = 128.0 MPa compression.
local tee = open("tests/neovim/tee.haunch")
expect_hint(tee, "section tee", "41.21 mm")
expect_hint(tee, "point face", "48.50 MPa tension")
expect_hint(tee, "point edge", "128.0 MPa compression")
expect_no_errors(tee)

-- A stem of 6 mm: A = 2040 mm2; ybar = (1200*5 + 840*80)/2040 = 35.88 mm;
-- I = 1e4 + 1200*30.88^2 + 6*140^3/12 + 840*44.12^2 = 4.162e6 mm4;
-- at the top 6e6*114.12/4.162e6 = 164.5 MPa compression: more than the 130 MPa allowed.
local stem = line_number(tee, "rect stem")
vim.api.nvim_buf_set_lines(tee, stem, stem + 1, false, { "    rect stem     6 x 140 mm  above flange" })
expect_hint(tee, "point edge", "164.5 MPa compression")
wait_for("A finding that the limit fails", function() return findings(tee) end, function()
  return #errors(tee) > 0
end)

-- Typed back, the file is as before.
vim.api.nvim_buf_set_lines(tee, stem, stem + 1, false, { "    rect stem     8 x 140 mm  above flange" })
expect_no_errors(tee)
expect_hint(tee, "point edge", "128.0 MPa compression")

-- An example with a file that it uses.
local rail = open("examples/hoist-rail.haunch")
expect_hint(rail, "ybar = ", "=")
expect_no_errors(rail)

-- The slip and its repair.
local slip = open("tests/neovim/slip.haunch")
wait_for("The finding 'unit-mismatch'", function() return findings(slip) end, function()
  return #findings(slip, "unit-mismatch") == 1
end)
local ybar = line_number(slip, "ybar = ")
local mismatch = findings(slip, "unit-mismatch")[1]
if mismatch.lnum ~= ybar then
  fail("the slip is reported on another line: " .. vim.inspect(mismatch))
end
vim.api.nvim_win_set_cursor(0, { ybar + 1, mismatch.col })

-- What the finding means, on a page of its own, and back.
vim.lsp.buf.code_action({
  apply = true,
  filter = function(action) return action.title == "Show what unit-mismatch means" end,
})
wait_for("The page about unit-mismatch", function() return vim.api.nvim_buf_get_name(0) end, function()
  return vim.api.nvim_buf_get_lines(0, 0, 1, false)[1] == "# unit-mismatch"
end)
vim.api.nvim_win_set_buf(0, slip)
vim.api.nvim_win_set_cursor(0, { ybar + 1, mismatch.col })
vim.lsp.buf.code_action({
  apply = true,
  filter = function(action) return action.title:find("A1 + A2", 1, true) ~= nil end,
})
wait_for("The repaired line", function()
  return { vim.api.nvim_buf_get_lines(slip, ybar, ybar + 1, false), mismatch }
end, function()
  local line = vim.api.nvim_buf_get_lines(slip, ybar, ybar + 1, false)[1]
  return line:find("/(A1 + A2)", 1, true)
end)
expect_no_errors(slip)
expect_hint(slip, "ybar = ", "41.21")

-- What is on the screen of another Neovim: the values of a file follow a new name and a change in the file that it uses.
local screen = vim.fn.jobstart({
  vim.v.progpath, "--clean", "--embed", "--cmd", "set noswapfile runtimepath^=" .. root .. "/editors/neovim",
}, { rpc = true, env = { XDG_STATE_HOME = vim.env.XDG_STATE_HOME .. "/screen" } })
vim.rpcrequest(screen, "nvim_ui_attach", 120, 50, vim.empty_dict())
local function on_screen(code, ...)
  return vim.rpcrequest(screen, "nvim_exec_lua", code, { ... })
end
on_screen([[
  local root, program = ...
  vim.cmd("filetype plugin on")
  vim.lsp.config("haunch", { cmd = { program, "lsp" } })
  vim.cmd.edit(root .. "/examples/crane-girder-section.haunch")
]], root, vim.env.HAUNCH)

--- What is drawn beside the line that starts so.
local function drawn(start)
  return on_screen([[
    local space = vim.api.nvim_create_namespace("nvim.lsp.inlayhint")
    for number, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
      if vim.startswith(line, ...) then
        local marks = vim.api.nvim_buf_get_extmarks(0, space, { number - 1, 0 }, { number - 1, -1 }, { details = true })
        return vim.iter(marks):map(function(mark) return mark[4].virt_text[1][1] end):join(" ")
      end
    end
    return ""
  ]], start)
end

local function expect_drawn(start, wanted)
  wait_for("On the screen, '" .. wanted .. "' on the line '" .. start .. "'", function() return drawn(start) end, function()
    return drawn(start):find(wanted, 1, true)
  end)
end

expect_drawn("t_flange = shop.heavy", "= 15.00 mm")
on_screen([[
  vim.fn.search("shop.heavy", "e")
  vim.lsp.buf.rename("thick")
]])
expect_drawn("t_flange = shop.thick", "= 15.00 mm")
on_screen([[
  local used = vim.fn.bufnr("shop-materials.haunch")
  for number, line in ipairs(vim.api.nvim_buf_get_lines(used, 0, -1, false)) do
    if vim.startswith(line, "thick") then
      vim.api.nvim_buf_set_lines(used, number - 1, number, false, { "thick = 16 mm" })
    end
  end
]])
expect_drawn("t_flange = shop.thick", "= 16.00 mm")
expect_drawn("section gross of", "ybar 213.6 mm")
vim.fn.jobstop(screen)

print("tests/neovim: passed")
vim.cmd("qall!")
