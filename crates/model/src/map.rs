//! Things by their names, in the order of the names: a sorted list that reads like a map. A house holds a few dozen of a kind, which are
//! read often and changed rarely; and a list is far less code than a tree, which counts in a browser.
//! Source of the list: the crate `litemap`.

use std::borrow::{Borrow, Cow};
use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, DerefMut, Index};

use litemap::LiteMap;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A sorted list of names and things.
#[derive(Clone, Debug, PartialEq)]
pub struct Map<K, V>(LiteMap<K, V>);

impl<K, V> Default for Map<K, V> {
    fn default() -> Self {
        Self(LiteMap::new_vec())
    }
}

impl<K, V> Map<K, V> {
    /// An empty one.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The things, to be changed, in the order of their names.
    pub fn values_mut(&mut self) -> impl DoubleEndedIterator<Item = &mut V> {
        self.0.iter_mut().map(|(_, value)| value)
    }
}

impl<K, V> Map<K, V> {
    /// The thing of this name, with the name as the map holds it.
    #[must_use]
    pub fn get_key_value<Q: Ord + ?Sized>(&self, name: &Q) -> Option<(&K, &V)>
    where
        K: Ord + Borrow<Q>,
    {
        self.0.get_indexed(self.0.find_index(name).ok()?)
    }
}

impl<K, V> Deref for Map<K, V> {
    type Target = LiteMap<K, V>;

    fn deref(&self) -> &Self::Target {
        &self.0
    }
}

impl<K, V> DerefMut for Map<K, V> {
    fn deref_mut(&mut self) -> &mut Self::Target {
        &mut self.0
    }
}

impl<K: Ord + Borrow<Q>, V, Q: Ord + ?Sized> Index<&Q> for Map<K, V> {
    type Output = V;

    /// Panics when there is no such name, as every map does.
    fn index(&self, name: &Q) -> &V {
        let at = self.0.find_index(name).unwrap_or(usize::MAX);
        &self.0.as_slice()[at].1
    }
}

impl<K: Ord, V> FromIterator<(K, V)> for Map<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(entries: I) -> Self {
        Self(entries.into_iter().collect())
    }
}

impl<K: Ord, V, const N: usize> From<[(K, V); N]> for Map<K, V> {
    fn from(entries: [(K, V); N]) -> Self {
        entries.into_iter().collect()
    }
}

impl<K, V> IntoIterator for Map<K, V> {
    type Item = (K, V);
    type IntoIter = std::vec::IntoIter<(K, V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_tuple_vec().into_iter()
    }
}

impl<'a, K, V> IntoIterator for &'a Map<K, V> {
    type Item = (&'a K, &'a V);
    type IntoIter = <&'a LiteMap<K, V> as IntoIterator>::IntoIter;

    fn into_iter(self) -> Self::IntoIter {
        (&self.0).into_iter()
    }
}

impl<'a, K, V> IntoIterator for &'a mut Map<K, V> {
    type Item = (&'a K, &'a mut V);
    type IntoIter = <&'a mut LiteMap<K, V> as IntoIterator>::IntoIter;

    fn into_iter(self) -> Self::IntoIter {
        (&mut self.0).into_iter()
    }
}

impl<K: Serialize, V: Serialize> Serialize for Map<K, V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self)
    }
}

impl<'de, K: Deserialize<'de> + Ord, V: Deserialize<'de>> Deserialize<'de> for Map<K, V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(Entries(PhantomData))
    }
}

/// Most entries that room is made for before they are there.
const LIKELY: usize = 64;

struct Entries<K, V>(PhantomData<(K, V)>);

impl<'de, K: Deserialize<'de> + Ord, V: Deserialize<'de>> Visitor<'de> for Entries<K, V> {
    type Value = Map<K, V>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a map")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Map<K, V>, A::Error> {
        let mut entries = Vec::with_capacity(access.size_hint().unwrap_or(0).min(LIKELY));
        while let Some(entry) = access.next_entry()? {
            entries.push(entry);
        }
        Ok(entries.into_iter().collect())
    }
}

impl<K: JsonSchema, V: JsonSchema> JsonSchema for Map<K, V> {
    fn schema_name() -> Cow<'static, str> {
        std::collections::BTreeMap::<K, V>::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        std::collections::BTreeMap::<K, V>::json_schema(generator)
    }

    fn inline_schema() -> bool {
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_that_of_the_names_whatever_came_first() {
        let mut map = Map::from([("b", 2), ("a", 1), ("b", 3)]);
        map.insert("0", 0);
        assert_eq!(
            map.iter().collect::<Vec<_>>(),
            [(&"0", &0), (&"a", &1), (&"b", &3)]
        );
        assert_eq!(map["a"], 1);
        assert_eq!(map.get("c"), None);
    }

    #[test]
    fn it_is_written_and_read_as_any_map() {
        let text = r#"{"a":1,"b":2}"#;
        let map: Map<String, u8> = serde_json::from_str(r#"{"b":2,"a":1}"#).unwrap();
        assert_eq!(serde_json::to_string(&map).unwrap(), text);
        let wrong = serde_json::from_str::<Map<String, u8>>("[]").unwrap_err();
        assert!(wrong.to_string().contains("expected a map"), "{wrong}");
    }
}
