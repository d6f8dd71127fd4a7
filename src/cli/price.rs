//! `price PIECE`: the lowest and the suggested asking price, per channel.

use super::args::PriceArgs;
use super::figures::{hours, json_hours, json_money, money};
use super::opened::{Known, KnownPiece};
use super::table::{Align, Table};
use super::{Screen, Status, typed};
use crate::model::{Currency, Shop};
use crate::reckon::price::{Guidance, Price, PriceAsk, price as guidance};
use crate::reckon::work_on::{AsFound, WorkOn};
use serde_json::{Value, json};

/// Shows what to ask for a piece.
pub fn price(args: &PriceArgs, known: &Known, screen: &mut Screen) -> Status {
    match prices(args, known) {
        Ok((piece, list)) if args.json => {
            let list: Vec<Value> =
                list.iter().map(|one| json_of(piece, one, &known.shop.currency)).collect();
            screen.data(&format!("{:#}\n", Value::Array(list)));
            Status::Done
        }
        Ok((piece, list)) => {
            show(piece, &list, known, screen);
            Status::Done
        }
        Err(words) => {
            screen.complain(&words);
            Status::Usage
        }
    }
}

fn prices<'a>(
    args: &PriceArgs,
    known: &'a Known,
) -> Result<(KnownPiece<'a>, Vec<Guidance>), String> {
    let shop = &known.shop;
    let piece = known.find(&args.piece)?;
    let only = typed::channel(args.channel.as_deref(), shop)?;
    let ask = PriceAsk {
        margin: typed::percent("margin", args.margin.as_deref())?,
        hourly: typed::amount("hourly", args.hourly.as_deref(), shop)?,
        net: typed::amount("net", args.net.as_deref(), shop)?,
        as_found: as_found(args, shop)?,
    };
    let mut list = guidance(shop, &known.reckoned, piece.index, &ask)
        .map_err(|words| format!("{}: {words}\n", piece.piece.name()))?;
    list.retain(|one| only.is_none() || one.channel == only);
    Ok((piece, list))
}

fn as_found(args: &PriceArgs, shop: &Shop) -> Result<Option<AsFound>, String> {
    let Some(price) = typed::amount("as-found", args.as_found.as_deref(), shop)? else {
        return Ok(None);
    };
    Ok(Some(AsFound {
        price,
        after: typed::amount("after", args.after.as_deref(), shop)?,
        further_costs: typed::amount("costs", args.costs.as_deref(), shop)?.unwrap_or_default(),
        further_hours: typed::hours("hours", args.hours.as_deref())?.unwrap_or_default(),
    }))
}

/// The prices asked for, under the names they have on the screen and in JSON.
fn asked(one: &Guidance) -> Vec<(&'static str, &'static str, Option<&Price>)> {
    vec![
        ("break-even", "break_even", Some(&one.break_even)),
        ("shop rate", "shop_rate_price", one.shop_rate_price.as_ref()),
        ("margin", "margin_price", one.margin_price.as_ref()),
        ("hourly", "hourly_price", one.hourly_price.as_ref()),
        ("net", "net_price", one.net_price.as_ref()),
    ]
}

fn show(piece: KnownPiece, list: &[Guidance], known: &Known, screen: &mut Screen) {
    let currency = &known.shop.currency;
    let heads: Vec<_> = list.first().map(asked).unwrap_or_default();
    let heads: Vec<&str> =
        heads.iter().filter(|(_, _, price)| price.is_some()).map(|(head, _, _)| *head).collect();
    let mut columns = vec![("channel", Align::Left)];
    columns.extend(heads.iter().map(|head| (*head, Align::Right)));
    columns.push(("suggested", Align::Right));
    let mut table = Table::new(&columns);
    for one in list {
        let mut cells = vec![label(one, &known.shop)];
        cells.extend(
            asked(one).into_iter().filter_map(|(_, _, price)| price).map(|p| amount(p, currency)),
        );
        cells.push(money(one.suggested, currency));
        table.row(cells);
    }
    let first = list.first();
    let cost = money(first.map(|one| one.cost_of_goods), currency);
    let time = hours(first.and_then(|one| one.hours));
    screen.data(&format!("{}  {}\n", piece.piece.name(), piece.piece.title.value));
    screen.data(&format!("cost of goods {cost}, hours {time}\n\n"));
    screen.table(&table);
    for one in list {
        for words in asked(one).iter().filter_map(|(_, _, price)| price.as_ref()?.as_ref().err()) {
            screen.note(&format!("{}: {words}\n", label(one, &known.shop)));
        }
        if let Some(work_on) = &one.as_found {
            screen.data(&work_on_words(one, work_on, known));
        }
    }
    screen.note(
        "\nEach is the lowest price that reaches its aim after that channel's fee and usual \
         delivery.\n",
    );
}

fn label(one: &Guidance, shop: &Shop) -> String {
    let channel = one.channel.as_ref().and_then(|key| shop.channels.get(key));
    channel.map_or("no channel".to_owned(), |channel| channel.label.clone())
}

fn amount(price: &Price, currency: &Currency) -> String {
    money(price.as_ref().ok().copied(), currency)
}

fn work_on_words(one: &Guidance, work_on: &WorkOn, known: &Known) -> String {
    let currency = &known.shop.currency;
    let label = label(one, &known.shop);
    let Some(gain) = work_on.gain else {
        return format!("{label}: no price after the work is known; give one with --after\n");
    };
    let advice = if gain.is_sign_negative() { "sell it as it is" } else { "work on" };
    let after = money(work_on.after, currency);
    let hourly = work_on.per_further_hour.map_or(String::new(), |hourly| {
        format!(", {} per further hour", money(Some(hourly), currency))
    });
    let gain = money(Some(gain), currency);
    format!("{label}: working on to {after} adds {gain}{hourly}: {advice}\n")
}

fn json_of(piece: KnownPiece, one: &Guidance, currency: &Currency) -> Value {
    let mut object = json!({
        "piece": piece.piece.name(),
        "channel": one.channel,
        "cost_of_goods": json_money(one.cost_of_goods, currency),
        "hours": json_hours(one.hours),
    });
    for (_, key, price) in asked(one) {
        object[key] = json_money(price.and_then(|price| price.as_ref().ok().copied()), currency);
    }
    object["suggested"] = json_money(one.suggested, currency);
    object["as_found"] = one.as_found.as_ref().map_or(Value::Null, |work_on| {
        json!({
            "after": json_money(work_on.after, currency),
            "gain": json_money(work_on.gain, currency),
            "per_further_hour": json_money(work_on.per_further_hour, currency),
        })
    });
    object
}
