-- Neovim draws hints once for each version of a buffer. When a value of another file changes, the version stays, and the
-- hints that it asks for again would not be drawn over the old ones; so the old ones are taken away first. An answer that
-- is still on its way may be of before the change, and would be the one that is drawn: it is waited for.
local function renew_hints(id)
  local client = vim.lsp.get_client_by_id(id)
  for _, request in pairs(client and client.requests or {}) do
    if request.type == "pending" and request.method == "textDocument/inlayHint" then
      vim.defer_fn(function() renew_hints(id) end, 10)
      return
    end
  end
  for buffer in pairs(client and client.attached_buffers or {}) do
    if vim.lsp.inlay_hint.is_enabled({ bufnr = buffer }) then
      vim.lsp.inlay_hint.enable(false, { bufnr = buffer })
      vim.lsp.inlay_hint.enable(true, { bufnr = buffer })
    end
  end
end

local function on_refresh(_, _, context)
  renew_hints(context.client_id)
  return vim.NIL
end

return {
  cmd = { "haunch", "lsp" },
  filetypes = { "haunch" },
  root_markers = { ".git" },
  handlers = { ["workspace/inlayHint/refresh"] = on_refresh },
  -- The server offers pages about its findings to those who can show them: `plugin` does.
  before_init = function(params)
    local own = { haunch = { pages = true } }
    params.capabilities.experimental = vim.tbl_extend("force", params.capabilities.experimental or {}, own)
  end,
}
