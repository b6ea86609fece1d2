/// serve: the page on this machine's own address, for trying it and for installing it on a phone by cable.

#include <boost/asio/ip/tcp.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <filesystem>
#include <iostream>

#include "native/cli.h"
#include "native/disk.h"

namespace steep {
namespace {

namespace asio = boost::asio;
namespace http = boost::beast::http;

struct ServeWords {
  std::string folder = STEEPBOOK_PAGE_DIR;
  unsigned short port = 8642;
};

std::string_view media_type(std::string_view path) {
  struct Type {
    std::string_view ending, type;
  };
  static constexpr Type kTypes[] = {{".html", "text/html; charset=utf-8"},
                                    {".js", "text/javascript; charset=utf-8"},
                                    {".css", "text/css; charset=utf-8"},
                                    {".wasm", "application/wasm"},
                                    {".png", "image/png"},
                                    {".webmanifest", "application/manifest+json"},
                                    {".json", "application/json"},
                                    {".txt", "text/plain; charset=utf-8"}};
  for (const Type& type : kTypes)
    if (path.ends_with(type.ending)) return type.type;
  return "application/octet-stream";
}

/// Only plain names of files in the folder: no parents, no hidden files, nothing that leads outside.
bool is_plain(std::string_view name) {
  return !name.empty() && name.find("..") == std::string_view::npos && name.find('\\') == std::string_view::npos &&
         name.front() != '/' && name.find("/.") == std::string_view::npos && name.front() != '.';
}

/// The file as this browser may have it: what wasm/compress.mjs put beside it, else itself. A form older than the file is of another.
Result<std::string> read_form(const std::string& file, std::string_view accepted,
                              http::response<http::string_body>& response) {
  struct Form {
    const char *coding, *ending;
  };
  for (const Form& form : {Form{"br", ".br"}, Form{"gzip", ".gz"}}) {
    if (accepted.find(form.coding) == std::string_view::npos) continue;
    std::error_code none, missing;
    const auto made = std::filesystem::last_write_time(file + form.ending, none),
               changed = std::filesystem::last_write_time(file, missing);
    if (none || missing || made < changed) continue;
    if (auto bytes = read_file(file + form.ending)) {
      response.set(http::field::content_encoding, form.coding);
      return bytes;
    }
  }
  return read_file(file);
}

http::response<http::string_body> answer(const ServeWords& words, const http::request<http::string_body>& request) {
  http::response<http::string_body> response{http::status::ok, request.version()};
  response.keep_alive(false);
  std::string target(request.target().substr(0, request.target().find('?')));
  if (target == "/") target = "/index.html";
  const std::string name = target.substr(1);
  const boost::beast::string_view accepted = request[http::field::accept_encoding];
  const auto bytes = is_plain(name) ? read_form(words.folder + "/" + name, {accepted.data(), accepted.size()}, response)
                                    : Result<std::string>(refuse(Trouble::NotFound, "file.cannot_read"_w));
  if (request.method() != http::verb::get && request.method() != http::verb::head) {
    response.result(http::status::method_not_allowed);
  } else if (!bytes) {
    response.result(http::status::not_found);
  } else {
    const std::string_view type = media_type(name);
    response.set(http::field::content_type, boost::beast::string_view(type.data(), type.size()));
    response.set(http::field::cache_control, "no-cache");
    response.set(http::field::vary, "Accept-Encoding");
    if (request.method() == http::verb::get) response.body() = *bytes;
  }
  response.prepare_payload();
  return response;
}

Result<void> do_serve(Cli& cli, const ServeWords& words) {
  std::error_code none;
  if (!std::filesystem::exists(words.folder + "/index.html", none))
    return refuse(Trouble::NotFound, "cli.serve.no_page"_w, {words.folder});
  try {
    asio::io_context context;
    asio::ip::tcp::acceptor acceptor(context, {asio::ip::make_address("127.0.0.1"), words.port});
    std::cout << cli.words()("cli.serve.at"_w, {"http://localhost:" + std::to_string(acceptor.local_endpoint().port())})
              << std::endl;
    for (;;) {
      boost::beast::tcp_stream stream(acceptor.accept());
      stream.expires_after(std::chrono::seconds(10));
      boost::beast::flat_buffer buffer;
      http::request<http::string_body> request;
      boost::system::error_code trouble;
      http::read(stream, buffer, request, trouble);
      if (!trouble) http::write(stream, answer(words, request), trouble);
      stream.socket().shutdown(asio::ip::tcp::socket::shutdown_both, trouble);
    }
  } catch (const std::exception& error) {
    return refuse(Trouble::System, "cli.serve.failed"_w, {error.what()});
  }
}

}  // namespace

void add_serve_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("serve", "serve the page on this machine\n  steepbook serve --port 8642");
  auto words = std::make_shared<ServeWords>();
  verb->add_option("--folder", words->folder, "folder of the built page");
  verb->add_option("--port", words->port, "port; 0 = any free one");
  on_run(cli, verb, words, do_serve);
}

}  // namespace steep
